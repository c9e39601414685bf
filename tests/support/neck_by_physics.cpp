// neck_by_physics.cpp: exact lengths, stretch and stiffness; none of the shapes that are fitted.
//
// Room: tests/support.
#include "support/neck_by_physics.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

#include "midspan/instrument/fretboard.hpp"
#include "midspan/instrument/string_physics.hpp"
#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

constexpr int last_fret = 24;
constexpr std::array open_midi{64, 59, 55, 50, 45, 40};

struct Gauge {
    double gauge, core;  // in; no core: plain
};
constexpr std::array electric{Gauge{.010, 0},    Gauge{.013, 0},    Gauge{.017, 0},
                              Gauge{.026, .013}, Gauge{.036, .015}, Gauge{.046, .017}};
constexpr std::array acoustic{Gauge{.012, 0},     Gauge{.016, 0},     Gauge{.024, .0125},
                              Gauge{.032, .0145}, Gauge{.042, .0165}, Gauge{.053, .0185}};

/// A lump of mass on a string: where, counted from the saddle, and as so much length of string.
struct Lump {
    double from_saddle, length;
};

struct MadeString {
    StringGauge gauge;
    StringMake make;
    Hertz open{0.0};
    StringLay lay;
    std::vector<Lump> lumps;
};

/// What lumps do to a mode of so many bellies on a length: -C (sum m / l sin^2(k pi x / l)), first order.
double lump_cents(const std::vector<Lump>& lumps, double length, int bellies) {
    double sum = 0.0;
    for (const Lump& lump : lumps) {
        if (lump.from_saddle >= length) continue;
        const double motion = std::sin(bellies * std::numbers::pi * lump.from_saddle / length);
        sum += lump.length / length * motion * motion;
    }
    return -1200.0 / std::numbers::ln2 * sum;
}

/// Against half the 12th-fret harmonic.
double lump_error(const MadeString& string, int fret) {
    if (string.lumps.empty()) return 0.0;
    const double scale = string.lay.scale_length.value();
    return lump_cents(string.lumps, scale * std::exp2(-fret / 12.0), 1) - lump_cents(string.lumps, scale, 2);
}

/// Root mean square of the lumps' errors over frets 1 to 19 beyond the best a + b g.
double lump_misfit(const MadeString& string) {
    double n = 0, g1 = 0, g2 = 0, z0 = 0, z1 = 0, zz = 0;
    for (const int fret : chromatic_frets()) {
        const double g = std::exp2(fret / 12.0) - 1.0, e = lump_error(string, fret);
        n += 1, g1 += g, g2 += g * g, z0 += e, z1 += g * e, zz += e * e;
    }
    const double b = (n * z1 - g1 * z0) / (n * g2 - g1 * g1), a = (z0 - b * g1) / n;
    return std::sqrt(std::max(0.0, (zz - a * z0 - b * z1) / n));
}

void put_lumps(MadeString& string, double cents, RandomNumbers& random) {
    const double scale = string.lay.scale_length.value();
    for (int i = 0; i < 3; ++i) {
        string.lumps.push_back({random.uniform(0.05, 0.95) * scale, random.uniform(-1.0, 1.0)});
    }
    const double factor = cents / lump_misfit(string);
    for (Lump& lump : string.lumps) {
        lump.length *= factor;
    }
}

double error_of(const MadeString& string, int fret, FretPlace place) {
    const Cents stretched = fretted_error(string.make, string.lay, string.open, fret, place) -
                            harmonic_above_open(string.make, string.lay, string.open);
    return stretched.value() + lump_error(string, fret);
}

void set_saddle_at_12th(MadeString& string) {
    for (int round = 0; round < 4; ++round) {
        string.lay.saddle_setback = string.lay.saddle_setback + error_of(string, 12, {}) * std::numbers::ln2 /
                                                                    1200.0 * string.lay.scale_length;
    }
}

void set_saddle_for_all_frets(MadeString& string) {
    for (int round = 0; round < 4; ++round) {
        double along = 0.0, length = 0.0;
        for (const int fret : chromatic_frets()) {
            const double g = std::exp2(fret / 12.0) - 1.0;
            along += g * error_of(string, fret, {});
            length += g * g;
        }
        string.lay.saddle_setback =
            string.lay.saddle_setback + along / length * std::numbers::ln2 / 1200.0 * string.lay.scale_length;
    }
}

std::vector<MadeString> good_neck(RandomNumbers& random) {
    const auto& set = random.uniform() < 0.5 ? electric : acoustic;
    const double scale = random.uniform(625.0, 652.0);
    const double relief = random.uniform(0.08, 0.30), low_action = random.uniform(1.7, 2.4);
    const double nut = random.uniform(0.38, 0.55);
    StringMaterial material;
    material.modulus_gpa = random.uniform(195.0, 210.0);
    material.wrap_density_kg_m3 = random.uniform(7900.0, 8900.0);
    const double clamped = random.uniform(0.3, 1.7), finger = random.uniform(2.0, 8.0);

    std::vector<MadeString> strings;
    for (std::size_t i = 0; i < set.size(); ++i) {
        const bool wound = set[i].core > 0.0;
        StringGauge gauge{set[i].gauge * millimetres_per_inch, wound, {}};
        if (wound) gauge.core = set[i].core * millimetres_per_inch;
        MadeString string{gauge,
                          string_make(gauge, material),
                          raised(Hertz{440.0}, Cents{100.0 * (open_midi[i] - 69)}),
                          StringLay{Millimetres{scale}},
                          {}};
        string.lay.relief = Millimetres{relief};
        string.lay.nut_height = Millimetres{nut + random.uniform(-0.04, 0.04)};
        string.lay.clamped_ends = clamped;
        string.lay.finger_behind = Millimetres{finger};
        // The low strings lie higher, as they swing wider.
        const double action = low_action - 0.1 * (5.0 - static_cast<double>(i));
        string.lay.saddle_height = saddle_height_for(string.lay, Millimetres{action});
        set_saddle_at_12th(string);
        strings.push_back(std::move(string));
    }
    return strings;
}

/// Saddles that were not set at the 12th, or not quite: how much too near to the nut.
std::vector<Millimetres> set_otherwise(std::vector<MadeString>& strings, const NeckTake& take,
                                       RandomNumbers& random) {
    std::vector<Millimetres> missed_by;
    for (MadeString& string : strings) {
        if (take.saddles == SaddlesSet::for_all_frets) set_saddle_for_all_frets(string);
        const double missed = take.setter_off.value() > 0.0 ? take.setter_off.value() * random.normal() : 0.0;
        missed_by.push_back(missed * std::numbers::ln2 / 1200.0 * string.lay.scale_length);
        string.lay.saddle_setback = string.lay.saddle_setback - missed_by.back();
    }
    return missed_by;
}

bool concerns(const InjectedFault& fault, int string) {
    return !fault.cause.string || *fault.cause.string == string;
}

void spoil(std::vector<MadeString>& strings, const std::vector<InjectedFault>& faults,
           RandomNumbers& random) {
    for (const InjectedFault& fault : faults) {
        for (std::size_t i = 0; i < strings.size(); ++i) {
            if (!concerns(fault, static_cast<int>(i) + 1)) continue;
            StringLay& lay = strings[i].lay;
            const Millimetres size{fault.size};
            if (fault.cause.cause == NeckCause::saddle) lay.saddle_setback = lay.saddle_setback - size;
            if (fault.cause.cause == NeckCause::nut_position) lay.nut_shift = lay.nut_shift - size;
            if (fault.cause.cause == NeckCause::nut_height) lay.nut_height = lay.nut_height + size;
            if (fault.cause.cause == NeckCause::string) put_lumps(strings[i], fault.size, random);
        }
    }
}

/// The string as its owner knows it.
MadeString as_stated(const MadeString& string, Stated what, double relief_off, RandomNumbers& random) {
    MadeString stated = string;
    stated.make = string_make(string.gauge);
    stated.lay.clamped_ends = 1.0;
    stated.lay.finger_behind = Millimetres{5.0};
    stated.lay.nut_height = string.lay.nut_height + Millimetres{0.03 * random.normal()};
    stated.lay.relief = string.lay.relief + Millimetres{relief_off};
    Millimetres action_at_12th = action(string.lay, 12) + Millimetres{0.1 * random.normal()};
    if (what != Stated::gauges_and_heights) {
        stated.lay.nut_height = Millimetres{0.5};
        stated.lay.relief = Millimetres{0.2};
        action_at_12th = Millimetres{1.8};
    }
    stated.lay.saddle_height = saddle_height_for(stated.lay, action_at_12th);
    set_saddle_at_12th(stated);
    return stated;
}

StringStretch stretch_of(const MadeString& string) {
    return {string.make.stretch_stiffness / string_tension(string.make, string.lay, string.open),
            string.lay.nut_height, string.lay.saddle_height};
}

FretPlace place_of(int fret, int string, const std::vector<InjectedFault>& faults, double spacing) {
    FretPlace place{Millimetres{spacing}, Millimetres{0.0}};
    for (const InjectedFault& fault : faults) {
        const NeckCause cause = fault.cause.cause;
        if (cause != NeckCause::fret && cause != NeckCause::fret_on_string) continue;
        if (fault.cause.fret == fret && concerns(fault, string)) {
            place.toward_saddle = place.toward_saddle + Millimetres{fault.size};
        }
    }
    return place;
}

}  // namespace

std::vector<int> chromatic_frets() {
    std::vector<int> frets(19);
    std::iota(frets.begin(), frets.end(), 1);
    return frets;
}

std::vector<int> sparse_frets() { return {1, 2, 3, 5, 7, 9, 12, 15, 17, 19}; }

MadeSurvey neck_by_physics(const std::vector<InjectedFault>& faults, const NeckTake& take,
                           std::uint64_t seed) {
    RandomNumbers random{seed};
    std::vector<MadeString> strings = good_neck(random);
    std::array<double, last_fret + 1> spacing{};
    for (double& shift : spacing) {
        shift = 0.03 * random.normal();
    }
    // Cents. An open string strays by a fifth from pluck to pluck: a tenth of a kelvin does as much. It is
    // plucked before its frets, and again after them.
    constexpr double pitch = 0.05;
    const double reference = std::hypot(0.2, pitch) / std::sqrt(2.0 * take.plucks);
    MadeSurvey made;
    made.options.heights_known = made.options.relief_known = take.stated == Stated::gauges_and_heights;
    const double relief_off = 0.03 * random.normal();
    for (std::size_t i = 0; i < strings.size(); ++i) {
        const MadeString stated = as_stated(strings[i], take.stated, relief_off, random);
        made.strings.push_back(
            {static_cast<int>(i) + 1, strings[i].open, strings[i].lay.scale_length, Cents{reference}, {}});
        if (take.stated == Stated::nothing) continue;
        made.strings.back().stretch = stretch_of(stated);
        for (const int fret : take.frets) {
            made.options.known.push_back({static_cast<int>(i) + 1, fret, Cents{error_of(stated, fret, {})}});
        }
    }
    made.missed_by = set_otherwise(strings, take, random);
    spoil(strings, faults, random);

    for (std::size_t i = 0; i < strings.size(); ++i) {
        const int number = static_cast<int>(i) + 1;
        const double reference_off = reference * random.normal();
        for (const int fret : take.frets) {
            const FretPlace place = place_of(fret, number, faults, spacing[static_cast<std::size_t>(fret)]);
            const double error = error_of(strings[i], fret, place) - reference_off;
            for (int pluck = 0; pluck < take.plucks; ++pluck) {
                const double hand = std::hypot(take.scatter.value(), pitch) * random.normal();
                made.observations.push_back({number, fret, Cents{error + hand}, Cents{pitch}});
            }
        }
    }
    for (int bent = 0; bent < take.bent; ++bent) {
        const auto which =
            static_cast<std::size_t>(random.uniform() * static_cast<double>(made.observations.size()));
        NeckObservation& pluck = made.observations[which];
        pluck.error = pluck.error + Cents{random.uniform(6.0, 15.0)};
    }
    return made;
}

}  // namespace midspan::test
