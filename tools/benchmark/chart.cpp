// chart.cpp: curves to SVG.
//
// Room: tools/benchmark. Pure.
#include "benchmark/chart.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <string_view>

namespace midspan::benchmark {
namespace {

constexpr double panel_width = 360.0;
constexpr double panel_height = 300.0;
constexpr double left = 66.0;
constexpr double top = 62.0;
constexpr double between = 70.0;
constexpr double below = 50.0;
constexpr double legend_line = 18.0;

// Told apart by those who see few colours as well: after M. Okabe and K. Ito, from memory.
constexpr std::array<std::string_view, 8> colours{"#0072b2", "#d55e00", "#009e73", "#cc79a7",
                                                  "#e69f00", "#56b4e9", "#000000", "#888888"};

/// Where a value stands on an axis, 0 to 1.
double place(const Axis& axis, double value) {
    const double share = axis.logarithmic
                             ? std::log(value / axis.lowest) / std::log(axis.highest / axis.lowest)
                             : (value - axis.lowest) / (axis.highest - axis.lowest);
    return std::clamp(share, 0.0, 1.0);
}

std::vector<double> tick_values(const Axis& axis) {
    std::vector<double> values;
    if (!axis.logarithmic) {
        for (int i = 0; i <= axis.ticks; ++i)
            values.push_back(axis.lowest + (axis.highest - axis.lowest) * i / axis.ticks);
        return values;
    }
    const auto first = static_cast<int>(std::ceil(std::log10(axis.lowest) - 1e-9));
    const auto last = static_cast<int>(std::floor(std::log10(axis.highest) + 1e-9));
    for (int power = first; power <= last; ++power)
        values.push_back(std::pow(10.0, power));
    return values;
}

std::string escaped(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '&') {
            out += "&amp;";
        } else if (c == '<') {
            out += "&lt;";
        } else {
            out += c;
        }
    }
    return out;
}

std::string text_at(double x, double y, std::string_view anchor, std::string_view text) {
    return fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>\n", x, y, anchor,
                       escaped(text));
}

std::string line(double x1, double y1, double x2, double y2, std::string_view style) {
    return fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" {}/>\n", x1, y1, x2, y2,
                       style);
}

std::string stroke(const Curve& curve) {
    return fmt::format("stroke=\"{}\" stroke-width=\"1.8\"{}",
                       colours[static_cast<std::size_t>(curve.colour) % colours.size()],
                       curve.dashed ? " stroke-dasharray=\"5 4\"" : "");
}

std::string axes_of(const Panel& panel, double x0) {
    constexpr std::string_view grid = "stroke=\"#dddddd\"";
    std::string svg = text_at(x0 + panel_width / 2, top - 12, "middle", panel.title);
    for (const double value : tick_values(panel.x)) {
        const double x = x0 + panel_width * place(panel.x, value);
        svg += line(x, top, x, top + panel_height, grid);
        svg += text_at(x, top + panel_height + 18, "middle", fmt::format("{:g}", value));
    }
    for (const double value : tick_values(panel.y)) {
        const double y = top + panel_height * (1.0 - place(panel.y, value));
        svg += line(x0, y, x0 + panel_width, y, grid);
        svg += text_at(x0 - 6, y + 4, "end", fmt::format("{:g}", value));
    }
    svg += fmt::format(
        "<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" fill=\"none\" "
        "stroke=\"#555555\"/>\n",
        x0, top, panel_width, panel_height);
    svg += text_at(x0 + panel_width / 2, top + panel_height + 38, "middle", panel.x.label);
    const double middle = top + panel_height / 2;
    svg += fmt::format(
        "<text x=\"{0:.1f}\" y=\"{1:.1f}\" text-anchor=\"middle\" transform=\"rotate(-90 {0:.1f} "
        "{1:.1f})\">{2}"
        "</text>\n",
        x0 - 52, middle, escaped(panel.y.label));
    return svg;
}

std::string curve_of(const Panel& panel, const Curve& curve, double x0) {
    std::string points;
    std::string dots;
    for (const Point& point : curve.points) {
        if (!std::isfinite(point.y)) continue;
        const double x = x0 + panel_width * place(panel.x, point.x);
        const double y = top + panel_height * (1.0 - place(panel.y, point.y));
        points += fmt::format("{:.1f},{:.1f} ", x, y);
        if (!curve.dashed && curve.points.size() < 20) {
            dots += fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"3\" fill=\"{}\"/>\n", x, y,
                                colours[static_cast<std::size_t>(curve.colour) % colours.size()]);
        }
    }
    return fmt::format("<polyline points=\"{}\" fill=\"none\" {}/>\n", points, stroke(curve)) + dots;
}

/// Every label once, in the order of its first curve.
std::vector<const Curve*> named_curves(const Chart& chart) {
    std::vector<const Curve*> named;
    for (const Panel& panel : chart.panels) {
        for (const Curve& curve : panel.curves) {
            const bool known = std::any_of(named.begin(), named.end(),
                                           [&](const Curve* other) { return other->label == curve.label; });
            if (!curve.label.empty() && !known) named.push_back(&curve);
        }
    }
    return named;
}

}  // namespace

std::string as_svg(const Chart& chart) {
    const std::vector<const Curve*> named = named_curves(chart);
    const auto panels = static_cast<double>(chart.panels.size());
    const double width = left + panels * panel_width + (panels - 1) * between + 20;
    const int columns = chart.panels.size() > 1 ? 4 : 2;
    const auto lines = (static_cast<int>(named.size()) + columns - 1) / columns;
    const double height = top + panel_height + below + 14 + lines * legend_line;

    std::string svg = fmt::format(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:.0f} {1:.0f}\" width=\"{0:.0f}\" "
        "height=\"{1:.0f}\" font-family=\"sans-serif\" font-size=\"12\" fill=\"#222222\">\n"
        "<title>{2}</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#ffffff\"/>\n",
        width, height, escaped(chart.title));
    svg += fmt::format("<text x=\"{:.1f}\" y=\"24\" text-anchor=\"middle\" font-size=\"15\">{}</text>\n",
                       width / 2, escaped(chart.title));
    double x0 = left;
    for (const Panel& panel : chart.panels) {
        svg += axes_of(panel, x0);
        for (const Curve& curve : panel.curves)
            svg += curve_of(panel, curve, x0);
        x0 += panel_width + between;
    }
    for (std::size_t i = 0; i < named.size(); ++i) {
        const double x =
            left + static_cast<double>(static_cast<int>(i) % columns) * (width - left - 20) / columns;
        const double y = top + panel_height + below + 8 + legend_line * (static_cast<int>(i) / columns);
        svg += line(x, y - 4, x + 26, y - 4, stroke(*named[i]));
        svg += text_at(x + 32, y, "start", named[i]->label);
    }
    return svg + "</svg>\n";
}

}  // namespace midspan::benchmark
