// bench_notes.cpp: warnings behind the places they belong to, and cautions.
//
// Room: view. Pure.
#include "midspan/view/bench_notes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <string_view>
#include <vector>

#include "view/columns.hpp"
#include "view/figures.hpp"

namespace midspan {
namespace {

/// A string in a recording, and when.
struct Place {
    std::optional<int> string;
    std::optional<std::string> recording;  ///< only where there are several
    std::vector<std::string> times;
};

/// One warning, with all its places.
struct Said {
    WarningCode code;
    std::string message;
    std::vector<Place> places;
};

std::optional<std::string> recording_name(const Warning& w, const Analysis& analysis) {
    if (!w.recording || analysis.recordings.size() < 2) return std::nullopt;
    const auto index = static_cast<std::size_t>(*w.recording);
    if (index >= analysis.recordings.size()) return std::nullopt;
    return printable(analysis.recordings[index].path);
}

/// The element that fits, or `fresh` put behind the others.
template <class Element, class Fits>
Element& found_or_added(std::vector<Element>& all, Fits fits, Element fresh) {
    const auto found = std::find_if(all.begin(), all.end(), fits);
    return found != all.end() ? *found : all.emplace_back(std::move(fresh));
}

std::vector<Said> gathered(const Analysis& analysis) {
    std::vector<Said> all;
    for (const Warning& w : analysis.warnings) {
        const std::string message = printable(w.message);
        Said& said = found_or_added(
            all, [&](const Said& s) { return s.code == w.code && s.message == message; },
            Said{w.code, message, {}});
        const auto recording = recording_name(w, analysis);
        Place& place = found_or_added(
            said.places, [&](const Place& p) { return p.string == w.string && p.recording == recording; },
            Place{w.string, recording, {}});
        if (w.at) place.times.push_back(minutes_and_seconds(*w.at));
    }
    return all;
}

/// "string 3 in take2.wav at 0:12, 0:40"; empty when nothing is known.
std::string in_words(const Place& place) {
    std::string words;
    const auto add = [&words](const std::string& part) { words += words.empty() ? part : ' ' + part; };
    if (place.string) add(fmt::format("string {}", *place.string));
    if (place.recording) add(words.empty() ? *place.recording : "in " + *place.recording);
    if (!place.times.empty()) add(fmt::format("at {}", fmt::join(place.times, ", ")));
    return words;
}

std::string in_words(const std::vector<Place>& places) {
    const bool bare_strings =
        places.size() > 1 && std::all_of(places.begin(), places.end(), [](const Place& place) {
            return place.string && !place.recording && place.times.empty();
        });
    std::vector<std::string> parts;
    for (const Place& place : places) {
        std::string part = bare_strings ? std::to_string(*place.string) : in_words(place);
        if (!part.empty()) parts.push_back(std::move(part));
    }
    return bare_strings ? fmt::format("strings {}", fmt::join(parts, ", "))
                        : fmt::format("{}", fmt::join(parts, "; "));
}

/// Messages know one sign beyond ASCII.
std::string for_screen(std::string text, const Look& look) {
    constexpr std::string_view plus_minus = "±";
    if (look.utf8) return text;
    for (auto at = text.find(plus_minus); at != std::string::npos; at = text.find(plus_minus, at)) {
        text.replace(at, plus_minus.size(), "+-");
    }
    return text;
}

std::string heading(std::string_view text, const Look& look) {
    return look.emphasis ? fmt::format("\x1b[1m{}\x1b[0m\n", text) : fmt::format("{}\n", text);
}

}  // namespace

std::string bench_warnings(const Analysis& analysis, const Look& look) {
    if (analysis.warnings.empty()) return {};
    std::string result = heading("Warnings", look);
    for (const Said& said : gathered(analysis)) {
        const std::string where = in_words(said.places);
        result +=
            paragraph("  - ", for_screen(where.empty() ? said.message : where + ": " + said.message, look));
    }
    return result;
}

std::string bench_cautions(const Analysis& analysis, const Look& look) {
    const auto any = [&analysis](auto condition) {
        return std::any_of(analysis.strings.begin(), analysis.strings.end(), condition);
    };
    if (!any([](const AnalysedString& s) { return s.verdict == Verdict::move; })) return {};
    std::string text =
        heading("Before you turn a screw", look) +
        paragraph("  - ",
                  "Slacken the string first; a saddle dragged under tension scars the bridge and wears the "
                  "screw. Keep your eyes clear of strings under tension.") +
        paragraph("  - ",
                  "Use a screwdriver that fits. A screw that will not turn wants oil and patience, not "
                  "force; if it still sticks, see a luthier.") +
        paragraph("  - ", "Tune the open string back to pitch, then pluck again and measure again.");
    const bool out_of_travel = any([](const AnalysedString& s) {
        return std::find(s.warnings.begin(), s.warnings.end(), WarningCode::travel_exceeded) !=
               s.warnings.end();
    });
    if (out_of_travel) {
        text +=
            paragraph("  - ",
                      "Where the travel is not enough: see whether the spring or the end of the screw is "
                      "in the way, then turn the saddle around in its slot, worth about 1/16 in (1.6 mm); "
                      "after that a bridge with longer travel, or other strings. Another place for the "
                      "bridge is the last resort, and a luthier's work.");
    }
    return text;
}

}  // namespace midspan
