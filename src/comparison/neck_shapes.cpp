// neck_shapes.cpp: one short formula each.
//
// Room: comparison. Pure.
#include "comparison/neck_shapes.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "comparison/square.hpp"
#include "midspan/instrument/fretboard.hpp"

namespace midspan {
namespace {

constexpr double usual_nut_height = 0.5;     // mm over the line of the frets, common practice
constexpr double usual_saddle_height = 3.6;  // mm, likewise: some 2 mm over the 12th fret

double over_nut(const SurveyedString& string) {
    return string.stretch ? string.stretch->nut_height.value() : usual_nut_height;
}

double over_saddle(const SurveyedString& string) {
    return string.stretch ? string.stretch->saddle_height.value() : usual_saddle_height;
}

/// EA / T.
double stiffness_to_tension(const SurveyedString& string) {
    if (string.stretch) return string.stretch->stiffness_to_tension;
    constexpr double modulus = 207e9;   // Pa, music wire
    constexpr double density = 7850.0;  // kg/m^3
    constexpr double wound = 270.0;
    constexpr double thickest_plain = 300.0;
    const double speed = 2.0e-3 * string.scale_length.value() * string.open_frequency.value();
    const double plain = modulus / (density * square(speed));
    return plain <= thickest_plain ? plain : wound;
}

/// The integral of cos(k pi x) 2 sin^2(pi (x - x0) / l) over the l = 1 - x0 behind x0, divided by l.
double weighted_mean(int k, double x0) {
    const double pi = std::numbers::pi;
    const double l = 1.0 - x0;
    const double q = k * pi;        // of the mass
    const double p = 2.0 * pi / l;  // of the motion's square, 1 - cos(p (x - x0))
    const auto mean_of_cos = [&](double rate, double phase) {
        // (1 / l) integral over u = 0..l of cos(rate u + phase)
        if (std::abs(rate) < 1e-9) return std::cos(phase);
        return (std::sin(rate * l + phase) - std::sin(phase)) / (rate * l);
    };
    const double phase = q * x0;
    return mean_of_cos(q, phase) - 0.5 * (mean_of_cos(q + p, phase) + mean_of_cos(q - p, phase));
}

}  // namespace

double saddle_share(int fret) { return std::exp2(fret / 12.0) - 1.0; }

double cents_per_millimetre(const SurveyedString& string) {
    return cents_per_unit / string.scale_length.value();
}

double fret_cents_per_millimetre(const SurveyedString& string, int fret) {
    return cents_per_millimetre(string) * std::exp2(fret / 12.0);
}

double stretch_per_square_millimetre(const SurveyedString& string) {
    return 0.25 * cents_per_unit * stiffness_to_tension(string) / square(string.scale_length.value());
}

double nut_height_effect(const SurveyedString& string, int fret, double too_high) {
    assert(fret >= 1);
    return stretch_per_square_millimetre(string) *
           ((2.0 * over_nut(string) + too_high) / saddle_share(fret) + 2.0 * over_saddle(string));
}

double usual_stretch(const SurveyedString& string, int fret) {
    assert(fret >= 1);
    return stretch_per_square_millimetre(string) *
           (square(over_nut(string)) / saddle_share(fret) + 2.0 * over_nut(string) * over_saddle(string));
}

double relief_effect(const SurveyedString& string, int fret) {
    const double L = string.scale_length.value();
    const double x = fret_position(fret, string.scale_length).value();
    const double first = fret_position(1, string.scale_length).value();
    const double last = fret_position(17, string.scale_length).value();
    const double bow = std::max(0.0, 4.0 * (x - first) * (last - x) / square(last - first));
    const double height = over_nut(string) + (over_saddle(string) - over_nut(string)) * x / L;
    return 2.0 * stretch_per_square_millimetre(string) * square(L) * height * bow / (x * (L - x));
}

double finger_effect(const SurveyedString& string, int fret) {
    const double g = saddle_share(fret);
    const double height = over_nut(string) + g * over_saddle(string);  // times 2^(n/12): over that fret
    return stretch_per_square_millimetre(string) * square(height * (1.0 + g) / g) /
           string.scale_length.value();
}

double uneven_mass_effect(int k, int fret) {
    const double x = 1.0 - std::exp2(-fret / 12.0);
    return 0.5 * cents_per_unit * (weighted_mean(k, 0.0) - weighted_mean(k, x));
}

}  // namespace midspan
