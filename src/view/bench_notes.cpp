// bench_notes.cpp: warnings with the places they belong to, and cautions.
//
// Room: view. Pure.
#include "midspan/view/bench_notes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "view/columns.hpp"
#include "view/figures.hpp"

namespace midspan {
namespace {

/// Where one warning belongs: "string 3, 0:12 in take2.wav".
std::string place(const Warning& w, const Analysis& analysis) {
    std::string result;
    if (w.string) result = fmt::format("string {}", *w.string);
    if (w.at) {
        if (!result.empty()) result += ", ";
        result += "at " + minutes_and_seconds(*w.at);
    }
    const bool named = w.recording && analysis.recordings.size() > 1 &&
                       static_cast<std::size_t>(*w.recording) < analysis.recordings.size();
    if (named) {
        if (!result.empty()) result += " in ";
        result += printable(analysis.recordings[static_cast<std::size_t>(*w.recording)].path);
    }
    return result;
}

struct Said {
    WarningCode code;
    std::string message;
    std::vector<std::string> places;
};

std::vector<Said> gathered(const Analysis& analysis) {
    std::vector<Said> all;
    for (const Warning& w : analysis.warnings) {
        const auto same = std::find_if(all.begin(), all.end(), [&](const Said& s) {
            return s.code == w.code && s.message == w.message;
        });
        Said& said = same != all.end() ? *same : all.emplace_back(Said{w.code, w.message, {}});
        const std::string where = place(w, analysis);
        if (!where.empty()) said.places.push_back(where);
    }
    return all;
}

std::string heading(std::string_view text, const Look& look) {
    return look.emphasis ? fmt::format("\x1b[1m{}\x1b[0m\n", text) : fmt::format("{}\n", text);
}

}  // namespace

std::string bench_warnings(const Analysis& analysis, const Look& look) {
    if (analysis.warnings.empty()) return {};
    std::string result = heading("Warnings", look);
    for (const Said& said : gathered(analysis)) {
        std::string text = printable(said.message);
        if (!said.places.empty()) text += fmt::format(" ({})", fmt::join(said.places, "; "));
        result += paragraph("  - ", text);
    }
    return result;
}

std::string bench_cautions(const Analysis& analysis, const Look& look) {
    const bool any_move = std::any_of(analysis.strings.begin(), analysis.strings.end(),
                                      [](const AnalysedString& s) { return s.verdict == Verdict::move; });
    if (!any_move) return {};
    return heading("Before you turn a screw", look) +
           paragraph(
               "  - ",
               "Slacken the string first; a saddle dragged under tension scars the bridge and wears the "
               "screw. Keep your eyes clear of strings under tension.") +
           paragraph("  - ",
                     "Use a screwdriver that fits. A screw that will not turn wants oil and patience, not "
                     "force; if it still sticks, see a luthier.") +
           paragraph("  - ", "Tune the open string back to pitch, then pluck again and measure again.");
}

}  // namespace midspan
