// neck_survey.cpp: notes to causes, causes to places of saddle and nut, and what they would leave.
//
// Room: comparison. Pure.
#include "midspan/comparison/neck_survey.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>

#include "comparison/neck_causes.hpp"
#include "comparison/neck_shapes.hpp"
#include "comparison/saddle_places.hpp"
#include "comparison/square.hpp"

namespace midspan {
namespace {

double root_mean_square(const std::vector<double>& values) {
    double squares = 0.0;
    for (const double v : values)
        squares += v * v;
    return values.empty() ? 0.0 : std::sqrt(squares / static_cast<double>(values.size()));
}

double weight_of(const NeckSurveyOptions& options, int fret) {
    if (options.weights.empty()) return 1.0;
    for (const FretWeight& w : options.weights) {
        if (w.fret == fret) return w.weight;
    }
    return 0.0;
}

double target_of(const NeckSurveyOptions& options, int fret) {
    for (const FretTarget& t : options.targets) {
        if (t.fret == fret) return t.target.value();
    }
    return 0.0;
}

std::vector<NeckObservation> against_target(std::vector<NeckObservation> observations,
                                            const NeckSurveyOptions& options) {
    for (NeckObservation& o : observations)
        o.error = o.error - Cents{target_of(options, o.fret)};
    return observations;
}

/// All plucks of one note.
struct Gathered {
    std::vector<double> errors;  // of the plucks that count
    std::vector<double> fitted;
    double fit_variance = 0.0;  // their sum
    int bent = 0;
};

using Notes = std::map<std::pair<int, int>, Gathered>;

Notes gathered(const std::vector<NeckObservation>& observations, const NeckCauses& causes) {
    Notes notes;
    for (std::size_t i = 0; i < observations.size(); ++i) {
        const NeckObservation& o = observations[i];
        Gathered& note = notes[{o.string, o.fret}];
        note.bent += causes.bent[i] ? 1 : 0;
        if (causes.bent[i]) continue;
        note.errors.push_back(o.error.value());
        note.fitted.push_back(causes.fitted[i]);
        note.fit_variance += square(o.uncertainty.value());
    }
    return notes;
}

double mean_of(const std::vector<double>& values) {
    double sum = 0.0;
    for (const double v : values)
        sum += v;
    return sum / static_cast<double>(values.size());
}

std::vector<SurveyedNote> notes_of(const Notes& gathered, double scatter) {
    std::vector<SurveyedNote> notes;
    for (const auto& [place, note] : gathered) {
        if (note.errors.empty()) continue;
        const auto n = static_cast<double>(note.errors.size());
        const double deviation = std::sqrt((square(scatter) + note.fit_variance / n) / n);
        notes.push_back({place.first,
                         place.second,
                         static_cast<int>(note.errors.size()),
                         note.bent,
                         {Cents{mean_of(note.errors)}, Cents{deviation}},
                         Cents{0.0},
                         Cents{0.0},
                         Cents{mean_of(note.fitted)}});
    }
    return notes;
}

/// Whether a named fret spoils this note: once it is mended, saddle and nut have nothing to do with it.
bool spoiled(const SurveyedNote& note, const std::vector<NeckFinding>& findings) {
    return std::any_of(findings.begin(), findings.end(), [&](const NeckFinding& finding) {
        return finding.cause.fret == note.fret && finding.cause.string.value_or(note.string) == note.string &&
               finding.rivals.empty();
    });
}

std::vector<WeightedError> errors_of(int string, const std::vector<SurveyedNote>& notes,
                                     const std::vector<NeckFinding>& findings,
                                     const NeckSurveyOptions& options) {
    std::vector<WeightedError> sound;
    std::vector<WeightedError> all;
    for (const SurveyedNote& note : notes) {
        if (note.string != string) continue;
        const WeightedError error{note.fret, note.error.value.value(), note.error.uncertainty.value(),
                                  weight_of(options, note.fret)};
        all.push_back(error);
        if (!spoiled(note, findings)) sound.push_back(error);
    }
    const auto counts = [](const WeightedError& e) { return e.weight > 0.0; };
    // Where the player's frets were not plucked, all that were must do.
    const auto usable = [&](std::vector<WeightedError> errors) {
        if (std::none_of(errors.begin(), errors.end(), counts)) {
            for (WeightedError& e : errors)
                e.weight = 1.0;
        }
        return errors;
    };
    return usable(sound.empty() ? all : sound);
}

/// Two notes, among frets 2 to 17, which tell saddle from nut best: the ends of the neck that everybody
/// reaches, unless one of them is known.
std::vector<NeckNote> to_separate(int string, const std::vector<WeightedError>& errors, int frets) {
    const int last = std::min(17, frets);
    double low = 0.0;
    double high = 0.0;
    for (const WeightedError& e : errors) {
        low += e.fret <= 4 ? 1.0 : 0.0;
        high += e.fret >= 9 ? 1.0 : 0.0;
    }
    std::vector<NeckNote> notes;
    if (low == 0.0 || high > 0.0) notes.push_back({string, 2});
    if (high == 0.0 || low > 0.0 || errors.size() < 2) notes.push_back({string, last});
    return notes;
}

SurveyedStringFit fit_of(const SurveyedString& string, const std::vector<WeightedError>& errors) {
    const Uncertain<Millimetres> alone = best_saddle(string, errors);
    const Millimetres none{0.0};
    return {string.number,
            alone,
            Cents{error_left(string, errors, alone.value, none)},
            best_saddle_and_nut(string, errors),
            alone.value,
            Cents{0.0},
            Cents{error_left(string, errors, none, none)},
            Cents{0.0}};
}

std::vector<SurveyedFret> frets_of(const NeckSurvey& survey) {
    std::map<int, std::vector<const SurveyedNote*>> by_fret;
    for (const SurveyedNote& note : survey.notes)
        by_fret[note.fret].push_back(&note);
    std::vector<SurveyedFret> frets;
    for (const auto& [fret, notes] : by_fret) {
        std::vector<double> before;
        std::vector<double> after;
        std::vector<double> both;
        double variance = 0.0;
        for (const SurveyedNote* note : notes) {
            before.push_back(note->error.value.value());
            after.push_back(note->after_saddle.value());
            both.push_back(note->after_saddle_and_nut.value());
            variance += square(note->error.uncertainty.value());
        }
        const auto n = static_cast<double>(notes.size());
        frets.push_back({fret,
                         {Cents{mean_of(both)}, Cents{std::sqrt(variance) / n}},
                         static_cast<int>(notes.size()),
                         Cents{root_mean_square(before)},
                         Cents{root_mean_square(after)},
                         Cents{root_mean_square(both)}});
    }
    return frets;
}

}  // namespace

NeckSurvey survey_neck(const std::vector<SurveyedString>& strings,
                       const std::vector<NeckObservation>& observations, const NeckSurveyOptions& options) {
    assert(std::all_of(observations.begin(), observations.end(),
                       [](const NeckObservation& o) { return o.fret >= 1 && o.fret <= 36; }));
    NeckSurvey survey;
    survey.scatter = options.fretting_scatter;
    if (observations.empty()) return survey;
    const std::vector<NeckObservation> against = against_target(observations, options);
    NeckCauses causes = find_causes(strings, against, options);
    survey.findings = std::move(causes.findings);
    survey.detectable = std::move(causes.detectable);
    survey.scatter = Cents{causes.scatter};

    const Notes notes = gathered(against, causes);
    survey.notes = notes_of(notes, causes.scatter);
    for (const auto& [place, note] : notes) {
        if (note.bent > 0) survey.bent.push_back({place.first, place.second});
    }

    std::vector<SurveyedString> heard;
    std::vector<std::vector<WeightedError>> errors;
    for (const SurveyedString& string : strings) {
        std::vector<WeightedError> mine = errors_of(string.number, survey.notes, survey.findings, options);
        if (mine.empty()) continue;
        heard.push_back(string);
        errors.push_back(std::move(mine));
    }
    const std::vector<Millimetres> on_bridge = best_on_bridge(heard, errors, options.bridge);
    for (std::size_t i = 0; i < heard.size(); ++i) {
        SurveyedStringFit fit = fit_of(heard[i], errors[i]);
        fit.on_this_bridge = on_bridge[i];
        fit.left_on_this_bridge = Cents{error_left(heard[i], errors[i], on_bridge[i], Millimetres{0.0})};
        if (!fit.together) {
            survey.inseparable.push_back({heard[i].number,
                                          {NeckCause::saddle, NeckCause::nut_position},
                                          to_separate(heard[i].number, errors[i], options.frets)});
        }
        const double k = cents_per_millimetre(heard[i]);
        for (SurveyedNote& note : survey.notes) {
            if (note.string != heard[i].number) continue;
            const double error = note.error.value.value();
            const double g = saddle_share(note.fret);
            note.after_saddle = Cents{error - k * g * fit.saddle_alone.value.value()};
            note.after_saddle_and_nut =
                fit.together ? Cents{error - k * (g * fit.together->saddle_toward_tail.value.value() +
                                                  fit.together->nut_toward_bridge.value.value())}
                             : note.after_saddle;
        }
        std::vector<double> left;
        for (std::size_t n = 0; n < against.size(); ++n) {
            if (against[n].string == heard[i].number && !causes.bent[n])
                left.push_back(causes.unexplained[n]);
        }
        fit.misfit = Cents{root_mean_square(left)};
        survey.strings.push_back(std::move(fit));
    }
    survey.frets = frets_of(survey);

    std::vector<double> before;
    std::vector<double> after;
    std::vector<double> both;
    for (const SurveyedNote& note : survey.notes) {
        before.push_back(note.error.value.value());
        after.push_back(note.after_saddle.value());
        both.push_back(note.after_saddle_and_nut.value());
    }
    survey.before = Cents{root_mean_square(before)};
    survey.after_saddle = Cents{root_mean_square(after)};
    survey.after_saddle_and_nut = Cents{root_mean_square(both)};
    return survey;
}

}  // namespace midspan
