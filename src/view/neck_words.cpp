// neck_words.cpp: the trade's words for what a survey names.
//
// Room: view. Pure.
#include "view/neck_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <iterator>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "midspan/advice/setup_prediction.hpp"
#include "view/bench_words.hpp"
#include "view/figures.hpp"

namespace midspan {
namespace {

constexpr std::size_t most_wishes = 3;

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

/// How a nut of the wrong height is mended; a capo is set again.
std::string height_remedy(bool too_high, int capo) {
    if (capo > 0) return "Set it again, close behind the fret and no tighter than the strings need.";
    return too_high ? "Lower the slot in small steps; what is filed away does not come back."
                    : "If the open string buzzes, fill the slot or change the nut.";
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
            return fmt::format("{}: {} {} {}. {}", nut_name(capo), length,
                               positive ? "too high" : "lower than usual", where(cause),
                               height_remedy(positive, capo));
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

/// The largest of a kind that could have been missed.
const DetectableSize* detectable(const NeckSurvey& survey, NeckCause cause, bool all_strings) {
    const DetectableSize* found = nullptr;
    for (const DetectableSize& size : survey.detectable) {
        if (size.cause != cause || size.all_strings != all_strings) continue;
        if (found == nullptr || size.size > found->size) found = &size;
    }
    return found;
}

std::string size_in_words(Millimetres size, const Look& look) {
    return look.unit == LengthUnit::inches ? fmt::format("{:.3f} in", size / millimetres_per_inch)
                                           : fmt::format("{:.2g} mm", size.value());
}

/// "fret 3 of string 1; frets 2 and 7 of string 5", the notes by string and fret.
std::string by_string_in_words(const std::vector<NeckNote>& notes) {
    std::map<int, std::vector<int>> frets;
    for (const NeckNote& note : notes)
        frets[note.string].push_back(note.fret);
    std::vector<std::string> words;
    for (const auto& [string, plucked] : frets) {
        std::string list;
        for (std::size_t i = 0; i < plucked.size(); ++i) {
            list += fmt::format("{}{}", i == 0 ? "" : i + 1 == plucked.size() ? " and " : ", ", plucked[i]);
        }
        words.push_back(fmt::format("fret{} {} of string {}", plucked.size() == 1 ? "" : "s", list, string));
    }
    return fmt::format("{}", fmt::join(words, "; "));
}

/// Where one string was plucked at far fewer frets than others, it is what the sizes are of.
std::string fewest_frets_in_words(const NeckSurvey& survey) {
    std::map<int, int> frets;
    for (const SurveyedNote& note : survey.notes)
        ++frets[note.string];
    const auto by_frets = [](const auto& a, const auto& b) { return a.second < b.second; };
    const auto [fewest, most] = std::minmax_element(frets.begin(), frets.end(), by_frets);
    if (2 * fewest->second >= most->second) return {};
    return fmt::format(
        " Of one string alone they are those of string {}, which was plucked at {} fret{}; on strings with "
        "{} "
        "frets far less would show.",
        fewest->first, fewest->second, fewest->second == 1 ? "" : "s", most->second);
}

std::string could_not_show(const NeckAnalysis& analysis, const Look& look) {
    const NeckSurvey& survey = analysis.neck;
    const bool several = survey.strings.size() > 1;
    std::string parts;
    std::string thrice;
    const auto add = [&](const DetectableSize* size, std::string_view name) {
        if (size == nullptr) return;
        parts +=
            fmt::format("{}{} under {}", parts.empty() ? "" : ", ", name, size_in_words(size->size, look));
        thrice +=
            fmt::format("{}{}", thrice.empty() ? "" : ", ", size_in_words(size->with_three_plucks, look));
    };
    add(detectable(survey, NeckCause::saddle, false), "a saddle fault");
    add(detectable(survey, NeckCause::nut_position, several),
        analysis.options.capo > 0 ? "a capo fault" : "a nut fault");
    add(detectable(survey, NeckCause::nut_height, several),
        analysis.options.capo > 0 ? "a capo height fault" : "a nut height fault");
    if (several) add(detectable(survey, NeckCause::fret, true), "a fret's contact line off by");
    if (parts.empty()) return {};
    // "off by under" reads badly, and the fret stands last.
    const auto off = parts.find("off by under");
    if (off != std::string::npos) parts.replace(off, 12, "off by less than");
    return fmt::format(
        "Would not surely show in these plucks: {}. With three times the plucks a note: {}. One pluck "
        "scatters by "
        "{} {} cents.{}",
        parts, thrice, plus_minus(look), rounded(2.0 * survey.scatter.value(), 1),
        fewest_frets_in_words(survey));
}

}  // namespace

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

std::vector<std::string> findings_in_words(const NeckAnalysis& analysis, const Look& look) {
    std::vector<std::string> sentences;
    for (const NeckFinding& finding : analysis.neck.findings)
        sentences.push_back(finding_in_words(finding, analysis.options.capo, look));
    return sentences;
}

std::vector<std::string> remarks_in_words(const NeckAnalysis& analysis, const Look& look) {
    const NeckSurvey& survey = analysis.neck;
    std::vector<std::string> sentences;
    if (survey.findings.empty())
        sentences.emplace_back("Nothing stands out of the scatter: no fault of saddle, nut, fret or string.");
    if (survey.findings.size() > 1) {
        sentences.emplace_back(
            "Mend the first, tune, and pluck again: it changes what is measured of the others.");
    }
    std::set<std::string> wishes;
    for (const Inseparable& pair : survey.inseparable) {
        if (!pair.deciding.empty()) wishes.insert(notes_in_words(pair.deciding));
    }
    if (!wishes.empty()) {
        const std::size_t shown = std::min(wishes.size(), most_wishes);
        const std::vector<std::string> first(wishes.begin(),
                                             std::next(wishes.begin(), static_cast<std::ptrdiff_t>(shown)));
        sentences.push_back(fmt::format("Saddle and {} cannot be separated from these frets. Pluck {}{}.",
                                        analysis.options.capo > 0 ? "capo" : "nut", fmt::join(first, "; "),
                                        wishes.size() > shown ? "; likewise on the other strings" : ""));
    }
    std::vector<NeckNote> one_pluck;
    std::vector<NeckNote> all_plucks;
    for (const NeckNote& note : survey.bent)
        (counts(survey, note) ? one_pluck : all_plucks).push_back(note);
    const auto again = [](const std::vector<NeckNote>& notes) { return notes.size() == 1 ? "it" : "them"; };
    if (!one_pluck.empty()) {
        sentences.push_back(fmt::format("A pluck that stands alone was left out of {}; pluck {} again.",
                                        by_string_in_words(one_pluck), again(one_pluck)));
    }
    if (!all_plucks.empty()) {
        sentences.push_back(
            fmt::format("Left out, since all plucks stand alone or disagree: {}; pluck {} again.",
                        by_string_in_words(all_plucks), again(all_plucks)));
    }
    if (survey.notes.empty()) return sentences;
    sentences.push_back(stated_in_words(analysis.options.stated, look));
    if (std::string limits = could_not_show(analysis, look); !limits.empty())
        sentences.push_back(std::move(limits));
    return sentences;
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
        nuts.push_back(string->nut_height ? std::optional{judged_nut_height(*string)} : std::nullopt);
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
