// error_picture.cpp: one row a string, flat to the left, sharp to the right.
//
// Room: view. Pure.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "view/figures.hpp"
#include "view/sheet_pictures.hpp"

namespace midspan {
namespace {

constexpr double width = 440.0;
constexpr double left = 44.0;
constexpr double right = 300.0;
constexpr double middle = 0.5 * (left + right);
constexpr double top = 22.0;
constexpr double row_height = 34.0;
constexpr double half_apart = 6.5;  ///< of the two marks of a row
constexpr double letter = 12.0;
constexpr double mark_radius = 3.5;

/// Cents to places on the picture.
struct Axis {
    double limit;  ///< cents at either end

    [[nodiscard]] double at(double cents) const {
        return middle + std::clamp(cents / limit, -1.0, 1.0) * 0.5 * (right - left);
    }
    [[nodiscard]] double tick() const {
        for (const double step :
             {0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0}) {
            if (limit / step <= 3.5) return step;
        }
        return 500.0;
    }
};

double reach(const AnalysedString* s) {
    if (s == nullptr) return 0.0;
    const auto& error = s->comparison->error;
    return std::abs(error.value.value()) + 2.0 * error.uncertainty.value();
}

Axis axis_for(std::span<const StringOverVisit> strings, Cents tolerance) {
    double farthest = 0.0;
    for (const StringOverVisit& s : strings) {
        farthest = std::max({farthest, reach(s.before), reach(s.after)});
    }
    return {std::clamp(1.1 * farthest, 3.0 * tolerance.value(), 20.0 * tolerance.value())};
}

enum class When { before, after };

void mark(Picture& picture, const Axis& axis, const AnalysedString& s, double y, When when) {
    const double error = s.comparison->error.value.value();
    const double twice = 2.0 * s.comparison->error.uncertainty.value();
    const std::string_view looks =
        when == When::before ? R"(fill="#fff" stroke="#000" stroke-width="1.5")" : R"(fill="#000")";
    if (std::abs(error) > axis.limit) {
        const double edge = axis.at(error);
        picture.arrow({edge + (error > 0.0 ? -14.0 : 14.0), y}, {edge, y}, 1.5);
        picture.circle({edge + (error > 0.0 ? -18.0 : 18.0), y}, mark_radius, looks);
        return;
    }
    const double from = axis.at(error - twice);
    const double to = axis.at(error + twice);
    picture.line({from, y}, {to, y}, 1.2);
    for (const double end : {from, to})
        picture.line({end, y - 3.5}, {end, y + 3.5}, 1.2);
    picture.circle({axis.at(error), y}, mark_radius, looks);
}

std::string number(const AnalysedString* s) {
    if (s == nullptr) return "–";
    const auto& error = s->comparison->error;
    return with_uncertainty(error.value.value(), 2.0 * error.uncertainty.value(), "±", Sign::always);
}

void row(Picture& picture, const Axis& axis, const StringOverVisit& s, double y) {
    picture.text({0.0, y + 4.0}, letter, Anchor::start,
                 fmt::format("{} {}", s.string.number, s.string.open_note.text()), R"(font-weight="bold")");
    picture.line({left, y}, {right, y},
                 s.fitted != nullptr && s.fitted->winding == Winding::wound ? 2.5 : 1.0, R"(stroke="#aaa")");
    if (s.before != nullptr) mark(picture, axis, *s.before, y - half_apart, When::before);
    if (s.after != nullptr) mark(picture, axis, *s.after, y + half_apart, When::after);
    if (s.before == nullptr) {
        picture.text({right + 14.0, y + 4.0}, letter, Anchor::start, "not measured");
        return;
    }
    picture.text({right + 14.0, y - half_apart + 4.0}, letter, Anchor::start, number(s.before));
    picture.text({right + 14.0, y + half_apart + 5.0}, letter, Anchor::start,
                 s.after != nullptr ? number(s.after) : "not measured again",
                 s.after != nullptr ? R"(font-weight="bold")" : "");
}

void ground(Picture& picture, const Axis& axis, Cents tolerance, double bottom) {
    const double from = axis.at(-tolerance.value());
    const double to = axis.at(tolerance.value());
    picture.rectangle({from, top}, to - from, bottom - top, R"(fill="#e6e6e6")");
    for (const double edge : {from, to})
        picture.line({edge, top}, {edge, bottom}, 0.8, R"(stroke-dasharray="3 2")");
    picture.line({middle, top}, {middle, bottom}, 0.8);
    picture.text({left, 12.0}, letter, Anchor::start, "◂ flat");
    picture.text({right, 12.0}, letter, Anchor::end, "sharp ▸");
    picture.text({right + 14.0, 12.0}, letter, Anchor::start, "cents");
    const double step = axis.tick();
    const int ticks = static_cast<int>(axis.limit / step);
    for (int i = -ticks; i <= ticks; ++i) {
        const double x = axis.at(i * step);
        picture.line({x, bottom}, {x, bottom + 4.0}, 0.8);
        picture.text({x, bottom + 15.0}, 11.0, Anchor::middle, i == 0 ? "0" : fmt::format("{:+g}", i * step));
    }
}

void legend(Picture& picture, Cents tolerance, double y) {
    picture.circle({6.0, y - 4.0}, 4.0, R"(fill="#fff" stroke="#000" stroke-width="1.5")");
    picture.text({14.0, y}, letter, Anchor::start, "as received");
    picture.circle({98.0, y - 4.0}, 4.0, R"(fill="#000")");
    picture.text({106.0, y}, letter, Anchor::start, "after");
    picture.line({146.0, y - 4.0}, {166.0, y - 4.0}, 1.2);
    for (const double end : {146.0, 166.0})
        picture.line({end, y - 7.5}, {end, y - 0.5}, 1.2);
    picture.text({171.0, y}, letter, Anchor::start, "95 of 100 readings");
    picture.rectangle({292.0, y - 10.0}, 14.0, 12.0,
                      R"(fill="#e6e6e6" stroke="#000" stroke-width="0.8" stroke-dasharray="3 2")");
    picture.text({311.0, y}, letter, Anchor::start, fmt::format("good: ±{:g} cents", tolerance.value()));
}

}  // namespace

Picture error_picture(std::span<const StringOverVisit> strings, Cents tolerance) {
    const double bottom = top + row_height * static_cast<double>(strings.size());
    const Axis axis = axis_for(strings, tolerance);
    Picture picture{width, bottom + 44.0,
                    "How far each string was out at the 12th fret as received and after, in cents"};
    ground(picture, axis, tolerance, bottom);
    double y = top + 0.5 * row_height;
    for (const StringOverVisit& s : strings) {
        row(picture, axis, s, y);
        y += row_height;
    }
    legend(picture, tolerance, bottom + 38.0);
    return picture;
}

}  // namespace midspan
