// bench_entry.cpp: gauges, frets and days as they are typed, and slips of the decimal point.
//
// Room: record. Pure.
#include "midspan/record/bench_entry.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <charconv>
#include <cmath>

#include "instrument/typed_text.hpp"
#include "midspan/instrument/length.hpp"

namespace midspan {
namespace {

Error no_gauge(std::string_view text, std::string problem) {
    return {Fault::usage, "gauge " + quoted(text), std::move(problem),
            "write them string 1 first as the packet does: 10,13,17,26w,36w,46w"};
}

Result<Millimetres> gauge_of(std::string_view text) {
    constexpr Millimetres thinnest{0.1};
    constexpr Millimetres thickest{4.0};
    constexpr double least_thousandths = 5.0;
    constexpr double most_inches = 0.2;
    Millimetres gauge{0.0};
    if (const auto number = unsigned_number(text)) {
        if (*number >= least_thousandths) {
            gauge = (*number / 1000.0) * millimetres_per_inch;
        } else if (*number < most_inches) {
            gauge = *number * millimetres_per_inch;
        } else {
            return no_gauge(text, "millimetres or inches?");
        }
    } else {
        const auto length = parse_length(text);
        if (!length) return no_gauge(text, "no gauge");
        gauge = length.value();
    }
    if (gauge >= thinnest && gauge <= thickest) return gauge;
    return no_gauge(text, "no string is that thick or thin");
}

Result<FittedString> fitted_string(std::string_view text) {
    FittedString fitted;
    if (text == "?") return fitted;
    std::string_view gauge = text;
    if (const auto core_at = text.find("w/"); core_at != std::string_view::npos) {
        const auto core = gauge_of(text.substr(core_at + 2));
        if (!core) return core.error();
        fitted.core = core.value();
        gauge = text.substr(0, core_at + 1);
    }
    if (gauge.ends_with('w') || gauge.ends_with('p')) {
        fitted.winding = gauge.back() == 'w' ? Winding::wound : Winding::plain;
        gauge = trimmed(gauge.substr(0, gauge.size() - 1));
    }
    const auto thickness = gauge_of(gauge);
    if (!thickness) return thickness.error();
    fitted.gauge = thickness.value();
    if (fitted.core && *fitted.core >= *fitted.gauge) return no_gauge(text, "its core is not thinner");
    return fitted;
}

/// The digits of `text`, all of them.
std::optional<int> whole_number(std::string_view text) {
    int number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc{} || end != text.data() + text.size() || text.starts_with('-'))
        return std::nullopt;
    return number;
}

struct Range {
    Millimetres least;
    Millimetres most;
};

constexpr Range usual_range(BenchQuantity quantity) {
    switch (quantity) {
        case BenchQuantity::relief:
            return {Millimetres{0.05}, Millimetres{0.51}};  // 0.020 in is 0.508 mm
        case BenchQuantity::action:
            return {Millimetres{0.5}, Millimetres{5.0}};
        case BenchQuantity::nut_height:
            return {Millimetres{0.05}, Millimetres{1.02}};
        case BenchQuantity::fret_height:
            return {Millimetres{0.6}, Millimetres{1.5}};
        case BenchQuantity::pickup_height:
            return {Millimetres{1.0}, Millimetres{7.0}};
    }
    assert(false);
    return {Millimetres{0.0}, Millimetres{0.0}};
}

}  // namespace

Result<std::vector<FittedString>> parse_gauges(std::string_view text) {
    std::vector<FittedString> fitted;
    for (const std::string_view each : between_commas(text)) {
        auto string = fitted_string(each);
        if (!string) return string.error();
        fitted.push_back(string.value());
    }
    if (fitted.empty()) return no_gauge(text, "no gauges");
    return fitted;
}

Result<HeldFrets> parse_held(std::string_view text) {
    constexpr int last_of_all = 36;
    HeldFrets held;
    for (const std::string_view each : between_commas(text)) {
        const auto fret = whole_number(each);
        if (each == "last") {
            held.last = true;
        } else if (fret && *fret >= 1 && *fret <= last_of_all) {
            held.frets.push_back(*fret);
        } else {
            return Error{Fault::usage, "held at " + quoted(each), "no fret",
                         "name the frets the string is held at: 1,last or 3"};
        }
    }
    std::sort(held.frets.begin(), held.frets.end());
    held.frets.erase(std::unique(held.frets.begin(), held.frets.end()), held.frets.end());
    return held;
}

Result<Day> parse_day(std::string_view text) {
    const Error refusal{Fault::usage, "day " + quoted(text), "no day of the calendar",
                        "write year, month and day: 2026-03-14"};
    text = trimmed(text);
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return refusal;
    const auto year = whole_number(text.substr(0, 4));
    const auto month = whole_number(text.substr(5, 2));
    const auto day = whole_number(text.substr(8, 2));
    if (!year || !month || !day || *month < 1 || *month > 12 || *day < 1) return refusal;
    constexpr int days[]{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    const bool leap = (*year % 4 == 0 && *year % 100 != 0) || *year % 400 == 0;
    if (*day > days[*month - 1] + (leap && *month == 2 ? 1 : 0)) return refusal;
    return Day{text};
}

std::optional<std::string> question_about(BenchQuantity quantity, Millimetres value,
                                          std::string_view as_typed) {
    const auto [least, most] = usual_range(quantity);
    if (value >= least && value <= most) return std::nullopt;
    // A neck without relief is something some want.
    if (quantity == BenchQuantity::relief && value == Millimetres{0.0}) return std::nullopt;
    const bool inches = as_typed.find_first_of("iI\"″”") != std::string_view::npos;
    if (inches) {
        return fmt::format("usual is {:.3f} to {:.3f} in", least / millimetres_per_inch,
                           most / millimetres_per_inch);
    }
    return fmt::format("usual is {:g} to {:g} mm", 0.05 * std::round(least.value() / 0.05),
                       0.05 * std::round(most.value() / 0.05));
}

}  // namespace midspan
