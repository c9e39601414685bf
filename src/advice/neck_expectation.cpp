// neck_expectation.cpp: the string model over the frets, less what a survey takes off by itself.
//
// Room: advice. Pure.
#include "midspan/advice/neck_expectation.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "midspan/advice/setup_prediction.hpp"
#include "midspan/instrument/string_physics.hpp"

namespace midspan {
namespace {

constexpr Millimetres usual_finger{5.0};  // behind the fret

StringLay lay_of(const StatedString& string, const InstrumentString& on, std::optional<Millimetres> relief,
                 int capo) {
    StringLay lay{on.scale_length};
    lay.nut_height = judged_nut_height(string);
    lay.relief = relief.value_or(usual_relief);
    lay.finger_behind = usual_finger;
    lay.saddle_height = saddle_height_for(lay, string.action.value_or(usual_action));
    if (capo > 0) {
        lay.scale_length = std::exp2(-capo / 12.0) * lay.scale_length;
        lay.nut_height = Millimetres{0.0};
    }
    return lay;
}

/// A stated string as it is held, by the nut or by a capo.
struct HeldString {
    StringMake make;
    StringLay lay;
    Hertz open;
};

HeldString held(const StatedString& string, const StatedNeck& neck, const Instrument& instrument, int capo) {
    const InstrumentString& on = instrument.string(string.number);
    return {string_make(*string.gauge), lay_of(string, on, neck.relief, capo),
            raised(on.open_frequency, Cents{100.0 * capo})};
}

/// The saddle where the 12th agrees with its harmonic. Each round gains 1.5 digits.
void set_at_12th(const StringMake& make, StringLay& lay, Hertz open) {
    for (int round = 0; round < 4; ++round) {
        const Cents error = fretted_error(make, lay, open, 12) - harmonic_above_open(make, lay, open);
        lay.saddle_setback =
            lay.saddle_setback + error.value() * std::numbers::ln2 / 1200.0 * lay.scale_length;
    }
}

}  // namespace

Millimetres judged_nut_height(const StatedString& string) {
    return std::min(string.nut_height.value_or(usual_nut_height), usual_nut_height);
}

bool strings_stated(const StatedNeck& neck) {
    return std::any_of(neck.strings.begin(), neck.strings.end(),
                       [](const StatedString& string) { return string.gauge.has_value(); });
}

std::vector<KnownError> expected_errors(const StatedNeck& neck, const Instrument& instrument, int capo,
                                        int frets) {
    assert(neck.strings.size() == instrument.strings.size() && capo >= 0 && frets >= 1);
    std::vector<KnownError> expected;
    for (const StatedString& string : neck.strings) {
        if (!string.gauge) continue;
        auto [make, lay, open] = held(string, neck, instrument, capo);
        set_at_12th(make, lay, open);
        const double b =
            inharmonicity(make, string_tension(make, lay, open), lay.scale_length, lay.clamped_ends);
        for (int fret = 1; fret <= frets; ++fret) {
            const double stiffness = 600.0 * std::log2((1.0 + b * std::exp2(fret / 6.0)) / (1.0 + b));
            expected.push_back(
                {string.number, fret, fretted_error(make, lay, open, fret) - Cents{stiffness}});
        }
    }
    return expected;
}

std::optional<StringStretch> expected_stretch(const StatedNeck& neck, const Instrument& instrument, int capo,
                                              int number) {
    for (const StatedString& string : neck.strings) {
        if (string.number != number || !string.gauge) continue;
        const auto [make, lay, open] = held(string, neck, instrument, capo);
        return StringStretch{make.stretch_stiffness / string_tension(make, lay, open), lay.nut_height,
                             lay.saddle_height};
    }
    return std::nullopt;
}

NeckSurveyOptions expecting(NeckSurveyOptions options, const StatedNeck& neck, const Instrument& instrument,
                            int capo) {
    if (!strings_stated(neck)) return options;
    options.known = expected_errors(neck, instrument, capo, options.frets);
    options.heights_known =
        std::all_of(neck.strings.begin(), neck.strings.end(), [](const StatedString& string) {
            return string.action.has_value() && string.nut_height.has_value();
        });
    options.relief_known = neck.relief.has_value();
    return options;
}

}  // namespace midspan
