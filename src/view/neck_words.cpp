// neck_words.cpp: the trade's words for what a survey names.
//
// Room: view. Pure.
#include "view/neck_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "midspan/advice/setup_prediction.hpp"
#include "view/bench_words.hpp"
#include "view/figures.hpp"

namespace midspan {
namespace {

std::string_view plus_minus(const Look& look) { return look.utf8 ? "±" : "+-"; }

std::string cents_in_words(Uncertain<Cents> cents, const Look& look) {
    return with_uncertainty(std::abs(cents.value.value()), 2.0 * cents.uncertainty.value(), plus_minus(look),
                            Sign::when_negative) +
           " cents";
}

/// "1.5 to 2.0 mm"; where nobody measured, the usual one and that it is only that.
std::string heights(const std::vector<std::optional<Millimetres>>& measured, Millimetres usual,
                    const Look& look) {
    std::vector<Millimetres> all;
    bool guessed = false;
    for (const auto& height : measured) {
        guessed = guessed || !height;
        all.push_back(height.value_or(usual));
    }
    const auto [low, high] = std::minmax_element(all.begin(), all.end());
    std::string text = bench_length(*low, look.unit);
    if (*low < *high) text += " to " + bench_length(*high, look.unit);
    return guessed ? text + " (usual)" : text;
}

/// What rings open: the nut, or the capo in its place.
std::string nut_name(int capo) { return capo == 0 ? "the nut" : fmt::format("the capo at fret {}", capo); }

std::string where(const NamedCause& cause) {
    return cause.string ? fmt::format("under string {}", *cause.string) : "on all strings";
}

std::string sure(const NeckFinding& finding, int capo, const Look& look) {
    const bool positive =
        (finding.length ? finding.length->value.value() : finding.effect.value.value()) > 0.0;
    const std::string length = finding.length ? length_in_words(*finding.length, look) : std::string{};
    const NamedCause& cause = finding.cause;
    switch (cause.cause) {
        case NeckCause::string:
            return fmt::format(
                "string {}: replace it. Its notes stray by {} where no place of saddle or nut can put them.",
                *cause.string, cents_in_words(finding.effect, look));
        case NeckCause::fret:
            return fmt::format(
                "fret {}: {} {} on all strings. {}", *cause.fret, cents_in_words(finding.effect, look),
                positive ? "sharp" : "flat",
                positive ? "Look for a flat crown whose contact has moved toward the bridge, and "
                           "for a fret that stands high or too near the bridge."
                         : "Look for a crown whose contact has moved toward the nut, and for a fret "
                           "that is worn low, loose, or too near the nut.");
        case NeckCause::fret_on_string:
            return fmt::format(
                "fret {} under string {} alone: {} {}. Look for a groove or a lifted spot there.",
                *cause.fret, *cause.string, cents_in_words(finding.effect, look),
                positive ? "sharp" : "flat");
        case NeckCause::nut_height:
            return positive ? fmt::format(
                                  "{}: {} too high {}. Lower the slot in small steps; what is filed away "
                                  "does not come back.",
                                  nut_name(capo), length, where(cause))
                            : fmt::format(
                                  "{}: {} lower than usual {}. If the open string buzzes, fill the slot or "
                                  "change the nut.",
                                  nut_name(capo), length, where(cause));
        case NeckCause::nut_position:
            return positive ? fmt::format("{}: its edge stands {} too far from the bridge {}.",
                                          nut_name(capo), length, where(cause))
                            : fmt::format("{}: its edge stands {} too near the bridge {}.", nut_name(capo),
                                          length, where(cause));
        case NeckCause::saddle:
            return fmt::format("string {}: move the saddle {} toward the {}.", *cause.string, length,
                               positive ? "tail" : "nut");
    }
    assert(false);
    return {};
}

}  // namespace

std::string_view neck_cause_name(NeckCause cause) {
    switch (cause) {
        case NeckCause::string:
            return "string";
        case NeckCause::fret:
            return "fret";
        case NeckCause::fret_on_string:
            return "fret_on_string";
        case NeckCause::nut_height:
            return "nut_height";
        case NeckCause::nut_position:
            return "nut_position";
        case NeckCause::saddle:
            return "saddle";
    }
    assert(false);
    return {};
}

std::string cause_in_words(const NamedCause& cause, int capo) {
    switch (cause.cause) {
        case NeckCause::string:
            return fmt::format("string {} itself", *cause.string);
        case NeckCause::fret:
            return fmt::format("fret {}", *cause.fret);
        case NeckCause::fret_on_string:
            return fmt::format("fret {} under string {}", *cause.fret, *cause.string);
        case NeckCause::nut_height:
            return fmt::format("the height of {} {}", nut_name(capo), where(cause));
        case NeckCause::nut_position:
            return fmt::format("the place of {} {}", nut_name(capo), where(cause));
        case NeckCause::saddle:
            return cause.string ? fmt::format("the saddle of string {}", *cause.string) : "all saddles";
    }
    assert(false);
    return {};
}

std::string notes_in_words(std::span<const NeckNote> notes) {
    std::string words;
    for (std::size_t i = 0; i < notes.size(); ++i) {
        if (i > 0) words += " and ";
        words += fmt::format("fret {}", notes[i].fret);
        const bool last_of_string = i + 1 == notes.size() || notes[i + 1].string != notes[i].string;
        if (last_of_string) words += fmt::format(" of string {}", notes[i].string);
    }
    return words;
}

std::string finding_in_words(const NeckFinding& finding, int capo, const Look& look) {
    if (finding.rivals.empty()) return sure(finding, capo, look);
    std::string words = "either " + cause_in_words(finding.cause, capo);
    for (const NamedCause& rival : finding.rivals)
        words += " or " + cause_in_words(rival, capo);
    words += fmt::format(" ({}{} at most).", finding.effect.value.value() > 0.0 ? "sharp by " : "flat by ",
                         cents_in_words(finding.effect, look));
    if (!finding.deciding.empty())
        words += fmt::format(" To tell, pluck {}.", notes_in_words(finding.deciding));
    return words;
}

std::string stated_in_words(const StatedNeck& neck, const Look& look) {
    if (!strings_stated(neck)) {
        return "The gauges are not known, so the stretch of usual strings is allowed for, and a third more "
               "or "
               "less: --gauges shows smaller faults.";
    }
    std::string gauges;
    std::vector<std::optional<Millimetres>> actions;
    std::vector<std::optional<Millimetres>> nuts;
    for (auto string = neck.strings.rbegin(); string != neck.strings.rend(); ++string) {
        gauges += string == neck.strings.rbegin() ? "" : " ";
        gauges += string->gauge ? gauge_in_words(*string->gauge) : "?";
        actions.push_back(string->action);
        nuts.push_back(string->nut_height);
    }
    return fmt::format(
        "Judged by what strings {} do on a good neck: action {}, height at the nut {}, relief {}.", gauges,
        heights(actions, usual_action, look), heights(nuts, usual_nut_height, look),
        heights({neck.relief}, usual_relief, look));
}

std::string length_in_words(Uncertain<Millimetres> length, const Look& look) {
    const bool inches = look.unit == LengthUnit::inches;
    const double k = inches ? 1.0 / millimetres_per_inch.value() : 1.0;
    return with_uncertainty(k * std::abs(length.value.value()), 2.0 * k * length.uncertainty.value(),
                            plus_minus(look), Sign::when_negative) +
           (inches ? " in" : " mm");
}

bool counts(const NeckSurvey& survey, const NeckNote& note) {
    return std::any_of(survey.notes.begin(), survey.notes.end(), [&note](const SurveyedNote& surveyed) {
        return surveyed.string == note.string && surveyed.fret == note.fret;
    });
}

std::vector<InstrumentString> strings_on_map(const NeckAnalysis& analysis) {
    std::vector<InstrumentString> strings;
    for (const InstrumentString& string : analysis.instrument.strings) {
        const auto of_string = [&string](const auto& note) { return note.string == string.number; };
        const NeckSurvey& survey = analysis.neck;
        if (std::any_of(survey.notes.begin(), survey.notes.end(), of_string) ||
            std::any_of(survey.bent.begin(), survey.bent.end(), of_string)) {
            strings.push_back(string);
        }
    }
    return strings;
}

}  // namespace midspan
