// measured_text.cpp: table, drawing, warnings and cautions, one below the other.
//
// Room: program. Pure.
#include "program/measured_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "midspan/view/bench_notes.hpp"
#include "midspan/view/bench_table.hpp"
#include "midspan/view/bridge_drawing.hpp"

namespace midspan::program {

std::optional<Error> nothing_measured(const Analysis& analysis) {
    const bool any = std::any_of(analysis.plucks.begin(), analysis.plucks.end(),
                                 [](const AnalysedPluck& pluck) { return pluck.used; });
    if (any) return std::nullopt;
    std::string subject = fmt::format("{} recordings", analysis.recordings.size());
    if (analysis.recordings.size() == 1) subject = analysis.recordings.front().path;
    if (subject == "-") subject = "standard input";
    return Error{Fault::input, subject, "no usable note",
                 "pluck each string by itself, let it ring, and check tuning and level"};
}

std::string measured_text(const Analysis& analysis, const Look& look) {
    std::string text = bench_table(analysis, look);
    for (const std::string& part :
         {bridge_drawing(analysis, look), bench_warnings(analysis, look), bench_cautions(analysis, look)}) {
        if (!part.empty()) text += '\n' + part;
    }
    return text;
}

}  // namespace midspan::program
