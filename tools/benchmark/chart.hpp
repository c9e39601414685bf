// chart.hpp: curves on logarithmic or even axes, drawn as SVG.
//
// Room: tools/benchmark. Pure.
#pragma once

#include <string>
#include <vector>

namespace midspan::benchmark {

struct Axis {
    std::string label;
    double lowest;
    double highest;            ///< > lowest; for a logarithmic axis both > 0
    bool logarithmic = false;  ///< ticks at powers of ten; else as many as `ticks`
    int ticks = 5;             ///< steps of an even axis
};

struct Point {
    double x;
    double y;
};

struct Curve {
    std::string label;  ///< empty: not named
    std::vector<Point> points;
    int colour = 0;       ///< 0 to 7; the last is grey
    bool dashed = false;  ///< a limit, not a measurement
};

/// One set of axes with its curves.
struct Panel {
    std::string title;
    Axis x;
    Axis y;
    std::vector<Curve> curves;
};

/// Panels side by side, with one list of what the curves are.
struct Chart {
    std::string name;  ///< of the file, without .svg
    std::string title;
    std::vector<Panel> panels;
};

/// The chart on white ground. Points outside the axes are drawn at their border.
[[nodiscard]] std::string as_svg(const Chart& chart);

}  // namespace midspan::benchmark
