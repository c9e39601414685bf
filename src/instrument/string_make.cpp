// string_make.cpp: from the gauge to weight and stiffness.
//
// Room: instrument. Pure.
#include "midspan/instrument/string_make.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

#include "instrument/typed_text.hpp"
#include "midspan/instrument/length.hpp"

namespace midspan {
namespace {

constexpr double steel_kg_m3 = 7850.0;
constexpr Millimetres thinnest_string{0.1};
constexpr Millimetres thickest_string{4.0};
constexpr double thickest_core = 0.9;  // of the gauge: thinner wrap is not made

double core_mm(const StringGauge& string, double factor) {
    if (string.core) return string.core->value();
    return factor * (0.203 + 0.2 * string.gauge.value());
}

/// A diameter as players say it: 10 is .010 in.
Result<Millimetres> diameter_of(std::string_view text) {
    const auto plain = unsigned_number(text);
    if (!plain) return parse_length(text);
    const double inches = *plain >= 4.0 ? *plain / 1000.0 : *plain;
    return inches * millimetres_per_inch;
}

}  // namespace

bool can_be_made(const StringGauge& string) {
    if (!(string.gauge >= thinnest_string && string.gauge <= thickest_string)) return false;
    if (!string.wound) return !string.core;
    const double core = core_mm(string, 1.0);
    return core >= thinnest_string.value() && core <= thickest_core * string.gauge.value();
}

StringMake string_make(const StringGauge& string, const StringMaterial& material) {
    assert(string.gauge >= thinnest_string && string.gauge <= thickest_string);
    const double d = material.gauge_factor * string.gauge.value();
    const double c = string.wound ? core_mm(string, material.core_factor) : d;
    assert(c > 0.0 && c <= d);

    constexpr double quarter_pi = std::numbers::pi / 4.0;
    const double w = (d - c) / 2.0;
    const double wire_a_turn = std::hypot(std::numbers::pi * (c + w), w);
    const double kg_m3_mm2 =
        quarter_pi * (steel_kg_m3 * c * c + material.wrap_density_kg_m3 * w * wire_a_turn);
    const double newtons_mm2 = 1000.0 * material.modulus_gpa;
    return {GramsPerMetre{kg_m3_mm2 / 1000.0}, Newtons{newtons_mm2 * quarter_pi * c * c},
            NewtonSquareMillimetres{newtons_mm2 * quarter_pi / 16.0 * c * c * c * c}};
}

Result<StringGauge> parse_gauge(std::string_view text) {
    const auto refuse = [&text](std::string problem) {
        return Error{
            Fault::usage, "gauge " + quoted(text), std::move(problem),
            "write thousandths of an inch or mm, a w behind a wound string: 10, 46w, 46w/17, 0.25mm"};
    };
    std::string_view outer = trimmed(text);
    std::optional<std::string_view> inner;
    if (const auto slash = outer.find('/'); slash != std::string_view::npos) {
        inner = trimmed(outer.substr(slash + 1));
        outer = trimmed(outer.substr(0, slash));
    }
    StringGauge string{Millimetres{0.0}, false, std::nullopt};
    if (!outer.empty() && (outer.back() == 'w' || outer.back() == 'W')) {
        string.wound = true;
        outer = trimmed(outer.substr(0, outer.size() - 1));
    }
    const auto gauge = diameter_of(outer);
    if (!gauge) return refuse("no diameter");
    string.gauge = gauge.value();
    if (!(string.gauge >= thinnest_string && string.gauge <= thickest_string)) {
        return refuse("outside 0.1 to 4 mm");
    }
    if (inner) {
        if (!string.wound) return refuse("a core, but no w that says it is wound");
        const auto core = diameter_of(*inner);
        if (!core) return refuse("no diameter of a core");
        if (!(core.value() >= thinnest_string && core.value() <= thickest_core * string.gauge)) {
            return refuse("a core that leaves no room for a wrap, or none for itself");
        }
        string.core = core.value();
    } else if (string.wound && core_mm(string, 1.0) > thickest_core * string.gauge.value()) {
        return refuse("too thin to be wound");
    }
    return string;
}

}  // namespace midspan
