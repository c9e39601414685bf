// string_physics.cpp: lengths, stretch and stiffness of a fretted string.
//
// Room: instrument. Pure.
#include "midspan/instrument/string_physics.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

#include "midspan/instrument/fretboard.hpp"

namespace midspan {
namespace {

constexpr int relief_from_fret = 1;
constexpr int relief_to_fret = 17;

/// How far the neck bows away at `fret`: s = 4 r (x - a) (b - x) / (b - a)^2, nothing outside frets 1 to 17.
double sag(const StringLay& lay, int fret) {
    const double x = fret_position(fret, lay.scale_length).value();
    const double a = fret_position(relief_from_fret, lay.scale_length).value();
    const double b = fret_position(relief_to_fret, lay.scale_length).value();
    if (x <= a || x >= b) return 0.0;
    return 4.0 * lay.relief.value() * (x - a) * (b - x) / ((b - a) * (b - a));
}

double open_span(const StringLay& lay) {
    return lay.scale_length.value() + lay.saddle_setback.value() - lay.nut_shift.value();
}

Millimetres open_length(const StringLay& lay) {
    return Millimetres{std::hypot(open_span(lay), (lay.saddle_height - lay.nut_height).value())};
}

/// sqrt(EI/T) / L
double beta_of(const StringMake& make, double tension, Millimetres length) {
    return std::sqrt(make.bending_stiffness.value() / tension) / length.value();
}

double inharmonicity_of(double beta, double clamped_ends) {
    const double root = std::numbers::pi * beta / (1.0 - clamped_ends * beta);
    return root * root;
}

}  // namespace

StringPath string_path(const StringLay& lay, int fret, FretPlace place) {
    assert(fret >= 1 && fret <= 36 && lay.scale_length.value() > 0.0);
    const double x = fret_position(fret, lay.scale_length).value() + place.toward_saddle.value();
    const double top = place.above.value() - sag(lay, fret);
    const double to_saddle = lay.scale_length.value() + lay.saddle_setback.value() - x;
    const double to_nut = x - lay.nut_shift.value();
    const double rise = lay.saddle_height.value() - top;

    // Behind the fret the string goes on in its direction, down to where the finger holds it.
    const double finger = lay.finger_behind.value();
    const double under_finger = top - rise / to_saddle * finger;
    const double over_finger = finger * std::hypot(1.0, rise / to_saddle);
    return {open_length(lay), Millimetres{std::hypot(to_saddle, rise)},
            Millimetres{over_finger + std::hypot(to_nut - finger, lay.nut_height.value() - under_finger)}};
}

Millimetres action(const StringLay& lay, int fret) {
    const double share = (fret_position(fret, lay.scale_length) - lay.nut_shift).value() / open_span(lay);
    return lay.nut_height + share * (lay.saddle_height - lay.nut_height) + Millimetres{sag(lay, fret)};
}

Millimetres saddle_height_for(const StringLay& lay, Millimetres action_at_12th) {
    const double share = (fret_position(12, lay.scale_length) - lay.nut_shift).value() / open_span(lay);
    const Millimetres rise = action_at_12th - Millimetres{sag(lay, 12)} - lay.nut_height;
    return lay.nut_height + (1.0 / share) * rise;
}

double stiffness_factor(double beta, double clamped_ends) {
    return std::sqrt(1.0 + inharmonicity_of(beta, clamped_ends)) / (1.0 - clamped_ends * beta);
}

double stretch_factor(double kappa, double longer) {
    return std::sqrt((1.0 + kappa * longer) * (1.0 + longer));
}

double inharmonicity(const StringMake& make, Newtons tension, Millimetres speaking, double clamped_ends) {
    return inharmonicity_of(beta_of(make, tension.value(), speaking), clamped_ends);
}

Newtons string_tension(const StringMake& make, const StringLay& lay, Hertz open) {
    const Millimetres length = open_length(lay);
    const double speed = 2.0 * length.value() / 1000.0 * open.value();
    const double without_stiffness = make.unit_weight.value() / 1000.0 * speed * speed;
    double tension = without_stiffness;
    // Stiffness raises the pitch by some per cent at most, so each round gains two digits or more.
    for (int round = 0; round < 8; ++round) {
        const double factor = stiffness_factor(beta_of(make, tension, length), lay.clamped_ends);
        tension = without_stiffness / (factor * factor);
    }
    return Newtons{tension};
}

Cents fretted_error(const StringMake& make, const StringLay& lay, Hertz open, int fret, FretPlace place) {
    const StringPath path = string_path(lay, fret, place);
    const double tension = string_tension(make, lay, open).value();
    const double kappa = make.stretch_stiffness.value() / tension;
    const double longer = (path.speaking + path.behind - path.open) / (path.open + lay.string_beyond);

    const double lengths = path.open / path.speaking / std::exp2(fret / 12.0);
    const double pressed_tension = tension * (1.0 + kappa * longer);
    const double stiffness =
        stiffness_factor(beta_of(make, pressed_tension, path.speaking), lay.clamped_ends) /
        stiffness_factor(beta_of(make, tension, path.open), lay.clamped_ends);
    return Cents{1200.0 * std::log2(lengths * stretch_factor(kappa, longer) * stiffness)};
}

Cents harmonic_above_open(const StringMake& make, const StringLay& lay, Hertz open) {
    const double B = inharmonicity(make, string_tension(make, lay, open), open_length(lay), lay.clamped_ends);
    return Cents{600.0 * std::log2((1.0 + 4.0 * B) / (1.0 + B))};
}

}  // namespace midspan
