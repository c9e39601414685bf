// bridge_drawing.cpp: one lane a saddle, one column a fixed length.
//
// Room: view. Pure.
#include "midspan/view/bridge_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "view/as_said.hpp"
#include "view/columns.hpp"
#include "view/figures.hpp"

namespace midspan {
namespace {

constexpr std::size_t name_width = 8;
constexpr std::size_t lane_width = 50;
constexpr std::size_t lane_middle = lane_width / 2;

/// What one column can stand for, finest first.
struct Scale {
    Millimetres column;
    std::string_view name;
};
constexpr std::array metric_scales{Scale{Millimetres{0.1}, "0.1 mm"}, Scale{Millimetres{0.2}, "0.2 mm"},
                                   Scale{Millimetres{0.5}, "0.5 mm"}, Scale{Millimetres{1.0}, "1 mm"},
                                   Scale{Millimetres{2.0}, "2 mm"},   Scale{Millimetres{5.0}, "5 mm"}};
constexpr std::array inch_scales{
    Scale{Millimetres{25.4 / 256}, "1/256 in"}, Scale{Millimetres{25.4 / 128}, "1/128 in"},
    Scale{Millimetres{25.4 / 64}, "1/64 in"},   Scale{Millimetres{25.4 / 32}, "1/32 in"},
    Scale{Millimetres{25.4 / 16}, "1/16 in"},   Scale{Millimetres{25.4 / 8}, "1/8 in"}};

struct Glyphs {
    std::string_view now, goal, unknown, to_tail, to_nut, track, no_track, nut_end, tail_end;
};
constexpr Glyphs ascii{"O", "X", "?", ">", "<", "-", ".", "|", "|"};
constexpr Glyphs drawn{"○", "●", "?", "→", "←", "─", "·", "├", "┤"};

/// One saddle in millimetres from a line across the bridge that is the same for all, positive toward the
/// tail.
struct Lane {
    const AnalysedString& string;
    double now;
    std::optional<double> goal;
    std::optional<double> nut_end;
    std::optional<double> tail_end;
};

bool travel_known(const AnalysedString& s) {
    return s.string.saddle.travel_toward_nut && s.string.saddle.travel_toward_tail;
}

std::vector<Lane> lanes_of(const Analysis& analysis) {
    const bool plan = std::ranges::all_of(analysis.strings, travel_known);
    std::vector<Lane> lanes;
    for (const AnalysedString& s : as_said(analysis)) {
        const Saddle& saddle = s.string.saddle;
        Lane lane{s, plan ? saddle.travel_toward_nut->value() : 0.0, {}, {}, {}};
        if (s.move && s.verdict == Verdict::move) lane.goal = lane.now + s.move->toward_tail.value();
        if (saddle.travel_toward_nut) lane.nut_end = lane.now - saddle.travel_toward_nut->value();
        if (saddle.travel_toward_tail) lane.tail_end = lane.now + saddle.travel_toward_tail->value();
        lanes.push_back(lane);
    }
    return lanes;
}

/// The part of the bridge that has to be on the drawing.
struct Extent {
    double from;
    double to;
};

Extent extent_of(const std::vector<Lane>& lanes) {
    Extent e{lanes.front().now, lanes.front().now};
    const auto include = [&e](double x) { e = {std::min(e.from, x), std::max(e.to, x)}; };
    for (const Lane& lane : lanes) {
        include(lane.now);
        for (const auto& x : {lane.goal, lane.nut_end, lane.tail_end}) {
            if (x) include(*x);
        }
    }
    return e;
}

Scale scale_for(const Extent& extent, LengthUnit unit) {
    const auto& scales = unit == LengthUnit::inches ? inch_scales : metric_scales;
    const auto fitting = std::ranges::find_if(scales, [&](const Scale& scale) {
        return (extent.to - extent.from) / scale.column.value() <= static_cast<double>(lane_width - 5);
    });
    return fitting != scales.end() ? *fitting : scales.back();
}

/// Millimetres to columns, the extent in the middle of the lane.
struct Ruler {
    double middle;
    double column;

    [[nodiscard]] int at(double x) const {
        const double place = std::round((x - middle) / column) + static_cast<double>(lane_middle);
        return static_cast<int>(std::clamp(place, 0.0, static_cast<double>(lane_width - 1)));
    }
};

std::string draw(const Lane& lane, const Ruler& ruler, const Glyphs& glyphs) {
    const int last = static_cast<int>(lane_width) - 1;
    const int nut_end = lane.nut_end ? ruler.at(*lane.nut_end) : 0;
    const int tail_end = lane.tail_end ? ruler.at(*lane.tail_end) : last;
    const int now = ruler.at(lane.now);

    std::vector<std::string_view> cells(lane_width, " ");
    const auto fill = [&cells](int from, int to, std::string_view glyph) {
        for (int i = from; i <= to; ++i)
            cells[static_cast<std::size_t>(i)] = glyph;
    };
    fill(nut_end, now, lane.nut_end ? glyphs.track : glyphs.no_track);
    fill(now, tail_end, lane.tail_end ? glyphs.track : glyphs.no_track);
    if (lane.nut_end) fill(nut_end, nut_end, glyphs.nut_end);
    if (lane.tail_end) fill(tail_end, tail_end, glyphs.tail_end);

    if (lane.goal) {
        const bool to_tail = *lane.goal > lane.now;
        const int goal = to_tail ? std::clamp(ruler.at(*lane.goal), std::min(now + 1, last), last)
                                 : std::clamp(ruler.at(*lane.goal), 0, std::max(now - 1, 0));
        if (to_tail) fill(now, goal, glyphs.to_tail);
        if (!to_tail) fill(goal, now, glyphs.to_nut);
        fill(goal, goal, glyphs.goal);
    }
    const bool unknown = lane.string.verdict == Verdict::measure_again;
    fill(now, now, unknown ? glyphs.unknown : glyphs.now);

    std::string line;
    for (const std::string_view cell : cells)
        line += cell;
    return line;
}

std::string beside(const Lane& lane, LengthUnit unit) {
    if (lane.string.verdict == Verdict::measure_again) return "measure again";
    if (!lane.goal) return "stays";
    const bool beyond =
        (lane.nut_end && *lane.goal < *lane.nut_end) || (lane.tail_end && *lane.goal > *lane.tail_end);
    if (beyond) return "beyond its travel";
    const bool inches = unit == LengthUnit::inches;
    const double k = inches ? 1.0 / millimetres_per_inch.value() : 1.0;
    const SaddleMove& move = *lane.string.move;
    return fmt::format(
        "{} {}",
        rounded(k * magnitude(move.toward_tail).value(), decimals_for(2.0 * k * move.uncertainty.value())),
        inches ? "in" : "mm");
}

/// The signs that are on the drawing, and what they mean.
std::string legend(const std::vector<Lane>& lanes, const Glyphs& glyphs) {
    const auto any = [&lanes](auto condition) { return std::ranges::any_of(lanes, condition); };
    std::string text = fmt::format("{} now", glyphs.now);
    const auto add = [&text](std::string_view glyph, std::string_view meaning) {
        text += fmt::format("   {} {}", glyph, meaning);
    };
    if (any([](const Lane& lane) { return lane.goal.has_value(); })) add(glyphs.goal, "where it should be");
    if (any([](const Lane& lane) { return lane.string.verdict == Verdict::measure_again; })) {
        add(glyphs.unknown, "measure again");
    }
    if (any([](const Lane& lane) { return lane.nut_end || lane.tail_end; }))
        add(glyphs.nut_end, "end of travel");
    if (any([](const Lane& lane) { return !lane.nut_end || !lane.tail_end; })) {
        add(glyphs.no_track, "not told");
    }
    return text + '\n';
}

}  // namespace

std::string bridge_drawing(const Analysis& analysis, const Look& look) {
    const bool any = std::ranges::any_of(analysis.strings,
                                         [](const AnalysedString& s) { return s.comparison.has_value(); });
    if (!any) return {};

    const std::vector<Lane> lanes = lanes_of(analysis);
    const Extent extent = extent_of(lanes);
    const Scale scale = scale_for(extent, look.unit);
    const Ruler ruler{0.5 * (extent.from + extent.to), scale.column.value()};
    const Glyphs& glyphs = look.utf8 ? drawn : ascii;

    std::string result = fmt::format("The bridge from above; one column is {}\n", scale.name);
    result += std::string(name_width, ' ') + padded("toward the nut", lane_width - 15) + "toward the tail\n";
    for (const Lane& lane : lanes) {
        const InstrumentString& s = lane.string.string;
        result += padded(fmt::format("{:>2}  {}", s.number, s.open_note.text()), name_width) +
                  draw(lane, ruler, glyphs) + "  " + beside(lane, look.unit) + '\n';
    }
    return result + legend(lanes, glyphs);
}

}  // namespace midspan
