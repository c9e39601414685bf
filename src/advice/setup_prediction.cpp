// setup_prediction.cpp: the string model at its best guess, and once more for everything nobody knows.
//
// Room: advice. Pure.
#include "midspan/advice/setup_prediction.hpp"

#include <cassert>
#include <cmath>
#include <functional>
#include <numbers>

#include "midspan/instrument/string_physics.hpp"

namespace midspan {
namespace {

constexpr int last_fret = 24;
constexpr double usual_finger = 5.0;                                               // mm behind the fret
constexpr double action_unknown = 0.1, nut_unknown = 0.05, relief_unknown = 0.05;  // mm

/// Everything that is guessed, for one string in both setups.
struct Guess {
    StringMaterial material[2];
    double clamped_ends = 1.0;
    double finger_mm = usual_finger;
    double beyond_mm = 0.0;
    double action_mm = 0.0, nut_mm = 0.0, relief_mm = 0.0;  // added to what was measured
};

/// All numbers predicted for a string, in one row, so that all are propagated alike.
struct Row {
    double tension[2];
    double setback[2];
    double before[last_fret], after[last_fret], after_move[last_fret];
};

StringLay lay_of(const Setup& setup, const InstrumentString& string, const Guess& guess) {
    StringLay lay{string.scale_length};
    lay.nut_height = setup.nut_height + Millimetres{guess.nut_mm};
    lay.relief = setup.relief + Millimetres{guess.relief_mm};
    lay.clamped_ends = guess.clamped_ends;
    lay.finger_behind = Millimetres{guess.finger_mm};
    lay.string_beyond = Millimetres{guess.beyond_mm};
    lay.saddle_height = saddle_height_for(lay, setup.action + Millimetres{guess.action_mm});
    return lay;
}

double error_of(const StringMake& make, StringLay lay, Hertz open, double setback, int fret) {
    lay.saddle_setback = Millimetres{setback};
    return (fretted_error(make, lay, open, fret) - harmonic_above_open(make, lay, open)).value();
}

/// The setback that makes the 12th right. A cent is ln 2 L / 1200 within 3 %, so each round gains 1.5 digits.
double setback_of(const StringMake& make, const StringLay& lay, Hertz open) {
    double setback = 0.0;
    for (int round = 0; round < 6; ++round) {
        setback +=
            error_of(make, lay, open, setback, 12) * std::numbers::ln2 / 1200.0 * lay.scale_length.value();
    }
    return setback;
}

/// A string on its neck.
struct Strung {
    StringMake make;
    StringLay lay;
    Hertz open;

    [[nodiscard]] double error(double setback, int fret) const {
        return error_of(make, lay, open, setback, fret);
    }
};

Strung strung(const Setup& setup, std::size_t index, const Guess& guess, std::size_t when) {
    const InstrumentString& string = setup.instrument.strings[index];
    return {string_make(setup.strings[index], guess.material[when]), lay_of(setup, string, guess),
            string.open_frequency};
}

Row row_of(const Setup* const (&setups)[2], std::size_t index, const Guess& guess) {
    const Strung old = strung(*setups[0], index, guess, 0);
    const Strung now = strung(*setups[1], index, guess, 1);
    Row row{};
    row.tension[0] = string_tension(old.make, old.lay, old.open).value();
    row.tension[1] = string_tension(now.make, now.lay, now.open).value();
    row.setback[0] = setback_of(old.make, old.lay, old.open);
    row.setback[1] = setback_of(now.make, now.lay, now.open);
    for (int fret = 1; fret <= last_fret; ++fret) {
        const auto i = static_cast<std::size_t>(fret - 1);
        row.before[i] = old.error(row.setback[0], fret);
        row.after[i] = now.error(row.setback[0], fret);
        row.after_move[i] = now.error(row.setback[1], fret);
    }
    return row;
}

bool same_string(const StringGauge& a, const StringGauge& b) {
    return a.gauge == b.gauge && a.wound == b.wound && a.core == b.core;
}

using Nudge = std::function<void(Guess&)>;

/// One standard uncertainty each. What a string makes uncertain belongs to both setups where it is the same.
std::vector<Nudge> nudges_of(const StringGauge& before, const StringGauge& after) {
    const HoldUncertainty hold;
    std::vector<Nudge> nudges{[=](Guess& g) { g.clamped_ends += hold.clamped_ends; },
                              [=](Guess& g) { g.finger_mm += hold.finger_behind.value(); },
                              [=](Guess& g) { g.beyond_mm += hold.string_beyond.value(); },
                              [](Guess& g) { g.action_mm += action_unknown; },
                              [](Guess& g) { g.nut_mm += nut_unknown; },
                              [](Guess& g) { g.relief_mm += relief_unknown; },
                              [](Guess& g) {
                                  for (StringMaterial& one : g.material)
                                      one.modulus_gpa += material_uncertainty.modulus_gpa;
                              }};
    const auto of_the_string = [&](std::vector<std::size_t> when) {
        nudges.push_back([=](Guess& g) {
            for (const std::size_t w : when)
                g.material[w].wrap_density_kg_m3 += material_uncertainty.wrap_density_kg_m3;
        });
        nudges.push_back([=](Guess& g) {
            for (const std::size_t w : when)
                g.material[w].core_factor += material_uncertainty.core_factor;
        });
        nudges.push_back([=](Guess& g) {
            for (const std::size_t w : when)
                g.material[w].gauge_factor += material_uncertainty.gauge_factor;
        });
    };
    if (same_string(before, after)) {
        of_the_string({0, 1});
    } else {
        of_the_string({0});
        of_the_string({1});
    }
    return nudges;
}

/// A number of the row with what all nudges do to it.
template <class Quantity, class Number>
Uncertain<Quantity> with_uncertainty(const Row& best, const std::vector<Row>& nudged, Number number) {
    double squares = 0.0;
    for (const Row& row : nudged) {
        const double moved = number(row) - number(best);
        squares += moved * moved;
    }
    return {Quantity{number(best)}, Quantity{std::sqrt(squares)}};
}

TravelVerdict travel_of(const Uncertain<Millimetres>& move, const Saddle& saddle) {
    const auto& travel = move.value > Millimetres{0.0} ? saddle.travel_toward_tail : saddle.travel_toward_nut;
    if (!travel) return TravelVerdict::not_known;
    const Millimetres expanded = 2.0 * move.uncertainty;
    if (magnitude(move.value) + expanded <= *travel) return TravelVerdict::enough;
    return magnitude(move.value) - expanded > *travel ? TravelVerdict::too_short : TravelVerdict::doubtful;
}

double share_of_strength(const StringGauge& string, Newtons tension) {
    // The core's cross-section follows from its stiffness, whatever the modulus.
    const StringMaterial material;
    const double area =
        string_make(string, material).stretch_stiffness.value() / (1000.0 * material.modulus_gpa);
    const double core = std::sqrt(4.0 * area / std::numbers::pi);
    return tension.value() / area / (2211.0 / std::pow(core, 0.145));
}

PredictedString string_of(const Setup* const (&setups)[2], std::size_t index, const Row& best,
                          const std::vector<Row>& nudged) {
    const auto newtons = [&](auto number) { return with_uncertainty<Newtons>(best, nudged, number); };
    const auto millimetres = [&](auto number) { return with_uncertainty<Millimetres>(best, nudged, number); };
    const auto cents = [&](auto number) { return with_uncertainty<Cents>(best, nudged, number); };

    PredictedString string{setups[0]->instrument.strings[index].number,
                           newtons([](const Row& r) { return r.tension[0]; }),
                           newtons([](const Row& r) { return r.tension[1]; }),
                           newtons([](const Row& r) { return r.tension[1] - r.tension[0]; }),
                           millimetres([](const Row& r) { return r.setback[0]; }),
                           millimetres([](const Row& r) { return r.setback[1]; }),
                           millimetres([](const Row& r) { return r.setback[1] - r.setback[0]; }),
                           TravelVerdict::not_known,
                           0.0,
                           {}};
    string.travel = travel_of(string.move, setups[0]->instrument.strings[index].saddle);
    string.share_of_strength = share_of_strength(setups[1]->strings[index], string.tension_after.value);
    for (int fret = 1; fret <= last_fret; ++fret) {
        const auto i = static_cast<std::size_t>(fret - 1);
        string.notes.push_back({fret, cents([i](const Row& r) { return r.before[i]; }),
                                cents([i](const Row& r) { return r.after[i]; }),
                                cents([i](const Row& r) { return r.after[i] - r.before[i]; }),
                                cents([i](const Row& r) { return r.after_move[i]; })});
    }
    return string;
}

}  // namespace

SetupPrediction predict_setup(const Setup& before, const Setup& after) {
    const std::size_t count = before.instrument.strings.size();
    assert(count > 0 && before.strings.size() == count && after.strings.size() == count &&
           after.instrument.strings.size() == count);
    const Setup* const setups[2]{&before, &after};

    SetupPrediction prediction;
    for (std::size_t i = 0; i < count; ++i) {
        const Row best = row_of(setups, i, Guess{});
        std::vector<Row> nudged;
        for (const Nudge& nudge : nudges_of(before.strings[i], after.strings[i])) {
            Guess guess;
            nudge(guess);
            nudged.push_back(row_of(setups, i, guess));
        }
        prediction.strings.push_back(string_of(setups, i, best, nudged));
        // Strings of a set are made alike: their uncertainties go the same way, and add.
        const auto add = [](Uncertain<Newtons>& total, const Uncertain<Newtons>& one) {
            total = {total.value + one.value, total.uncertainty + one.uncertainty};
        };
        add(prediction.tension_before, prediction.strings.back().tension_before);
        add(prediction.tension_after, prediction.strings.back().tension_after);
        add(prediction.tension_change, prediction.strings.back().tension_change);
    }
    return prediction;
}

}  // namespace midspan
