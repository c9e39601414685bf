// string_analysis.cpp: the notes of one string to its error, move and verdict.
//
// Room: measurement. Pure. May include: ground, instrument to advice.
#include "measurement/string_analysis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>

namespace midspan {
namespace {

// A string further off than this is another string's neighbour, and its octave says little about the
// octave it will have at pitch.
constexpr Cents out_of_tune_from{60.0};
constexpr Cents largest_error{100.0};

double mean_inharmonicity(std::span<const PitchReading> readings) {
    double sum = 0.0;
    for (const PitchReading& reading : readings) {
        sum += reading.inharmonicity;
    }
    return sum / static_cast<double>(readings.size());
}

Hertz mean_frequency(std::span<const PitchReading> readings) {
    double sum = 0.0;
    for (const PitchReading& reading : readings) {
        sum += std::log(reading.frequency.value());
    }
    return Hertz{std::exp(sum / static_cast<double>(readings.size()))};
}

std::optional<double> open_inharmonicity(const StringReadings& readings) {
    if (!readings.harmonics.empty()) return 0.25 * mean_inharmonicity(readings.harmonics);
    if (!readings.open.empty()) return mean_inharmonicity(readings.open);
    return std::nullopt;
}

// f_1 of the open string from its second partial: f_1 / f_2 = (1/2) sqrt((1 + B) / (1 + 4 B)).
std::optional<TuningCheck> check_tuning(const InstrumentString& string, const StringReadings& readings) {
    TuningCheck check{Hertz{0.0}, Cents{0.0}, true};
    if (!readings.open.empty()) {
        check.frequency = mean_frequency(readings.open);
    } else if (!readings.harmonics.empty()) {
        const double B = *open_inharmonicity(readings);
        check.frequency = 0.5 * std::sqrt((1.0 + B) / (1.0 + 4.0 * B)) * mean_frequency(readings.harmonics);
        check.from_open = false;
    } else {
        return std::nullopt;
    }
    check.off = interval(string.open_frequency, check.frequency);
    return check;
}

bool any_suspect(const StringReadings& readings) {
    const auto suspect = [](const PitchReading& reading) { return reading.string_suspect; };
    return std::any_of(readings.harmonics.begin(), readings.harmonics.end(), suspect) ||
           std::any_of(readings.fretted.begin(), readings.fretted.end(), suspect);
}

class Caution {
public:
    Caution(AnalysedString& analysed, std::vector<Warning>& warnings)
        : analysed_{analysed}, warnings_{warnings} {}
    /// Says it, unless it has been said of this string.
    void operator()(WarningCode code, const std::string& message) {
        if (std::find(analysed_.warnings.begin(), analysed_.warnings.end(), code) !=
            analysed_.warnings.end()) {
            return;
        }
        analysed_.warnings.push_back(code);
        warnings_.push_back({code, std::nullopt, analysed_.string.number, std::nullopt, message});
    }

private:
    AnalysedString& analysed_;
    std::vector<Warning>& warnings_;
};

// Why there is nothing to compare.
void say_what_is_missing(const StringReadings& readings, Caution& caution) {
    if (readings.harmonics_heard > 0 && readings.fretted_heard > 0) {
        caution(WarningCode::unpaired,
                "no harmonic and fretted note could be used together; pluck both again");
    } else if (readings.harmonics_heard > 0) {
        caution(WarningCode::only_harmonics, "no note at the 12th fret to compare with; pluck that too");
    } else if (readings.fretted_heard > 0) {
        caution(WarningCode::only_fretted, "no 12th-fret harmonic to compare with; pluck that too");
    } else if (readings.open_heard > 0) {
        caution(WarningCode::only_open, "open notes alone; pluck the 12th-fret harmonic, then the 12th fret");
    } else {
        caution(WarningCode::no_plucks, "nothing of it was heard; pluck harmonic and 12th fret in turn");
    }
}

}  // namespace

AnalysedString analyse_string(const InstrumentString& string, const StringReadings& readings,
                              PluckOrder order, Cents tolerance, FrettingScatter others,
                              std::vector<Warning>& warnings) {
    AnalysedString analysed{string, {}, {}, {}, {}, {}, Verdict::measure_again, readings.warned};
    Caution caution{analysed, warnings};
    analysed.tuning = check_tuning(string, readings);
    analysed.inharmonicity = open_inharmonicity(readings);

    const bool out_of_tune = analysed.tuning && magnitude(analysed.tuning->off) > out_of_tune_from;
    if (out_of_tune) {
        caution(WarningCode::out_of_tune,
                fmt::format("{:.0f} cents {} of its open note; tune it, then measure it again",
                            std::abs(analysed.tuning->off.value()),
                            analysed.tuning->off.value() > 0.0 ? "sharp" : "flat"));
    }
    if (readings.ambiguous) {
        caution(
            WarningCode::ambiguous_string,
            "its notes may be another string's; say which with --string, or record each string on its own");
    }
    if (readings.harmonics.empty() || readings.fretted.empty()) {
        say_what_is_missing(readings, caution);
        return analysed;
    }
    if (readings.order_contradicted) {
        caution(WarningCode::order_contradicted,
                "the sound says harmonic where the order says fretted; pluck it again, harmonic first, and "
                "say --plucks grouped if you pluck all harmonics first");
    }
    const bool suspect = any_suspect(readings);
    if (suspect) {
        caution(WarningCode::string_suspect,
                "its partials do not fit a string; change that string before moving its saddle");
    }

    const OctaveComparison comparison = compare_octave(readings.harmonics, readings.fretted, order, others);
    analysed.comparison = comparison;
    if (magnitude(comparison.error.value) > largest_error) {
        caution(WarningCode::large_error,
                fmt::format("{:+.0f} cents is more than a saddle can be wrong; was it the 12th fret?",
                            comparison.error.value.value()));
        return analysed;
    }
    analysed.move = saddle_move(comparison.error, string.scale_length);
    const Verdict verdict = decide(comparison.error, tolerance);
    const bool trusted = !out_of_tune && !readings.ambiguous && !readings.order_contradicted && !suspect;
    if (trusted) analysed.verdict = verdict;

    if (comparison.harmonics == 1 && comparison.fretted_notes == 1) {
        caution(WarningCode::single_pair,
                "one pair cannot say how repeatable the fretting is; three pairs can");
    }
    if (comparison.scattered) {
        caution(WarningCode::scattered,
                fmt::format("plucks of the same note disagree by {:.1f} cents; press just behind the fret, "
                            "with the same weight each time",
                            comparison.scatter.value()));
    }
    if (trusted && verdict == Verdict::measure_again) {
        caution(WarningCode::uncertain,
                fmt::format("{:+.1f} \u00b1 {:.1f} cents does not decide against a tolerance of {:.1f}; more "
                            "plucks will",
                            comparison.error.value.value(), 2.0 * comparison.error.uncertainty.value(),
                            tolerance.value()));
    }
    if (analysed.verdict == Verdict::move && !within_travel(analysed.move->toward_tail, string.saddle)) {
        caution(WarningCode::travel_exceeded, "the move is longer than the travel that is left on that side");
    }
    return analysed;
}

BridgeResponse response_of(const InstrumentString& string, std::span<const KnownScrew> screws) {
    const auto known = std::ranges::find(screws, string.number, &KnownScrew::string);
    if (known != screws.end()) return BridgeResponse{known->response};
    return {string.saddle.thread_pitch, string.scale_length};
}

void advise_turns(AnalysedString& analysed, const BridgeResponse& response) {
    if (!analysed.move || !(response.learned() || analysed.string.saddle.thread_pitch)) return;
    const Uncertain<Turns> turns = response.turns_for(analysed.comparison->error);
    analysed.turns = turns.value;
    analysed.turns_uncertainty = turns.uncertainty;
    analysed.turns_learned = response.learned();
}

}  // namespace midspan
