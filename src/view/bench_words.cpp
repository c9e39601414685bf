// bench_words.cpp: short words, in the order a technician would say them.
//
// Room: view. Pure.
#include "view/bench_words.hpp"

#include <fmt/format.h>

#include <cassert>
#include <cmath>
#include <vector>

#include "view/figures.hpp"

namespace midspan {

std::string_view in_words(BenchQuantity quantity) {
    switch (quantity) {
        case BenchQuantity::relief:
            return "relief";
        case BenchQuantity::action:
            return "action";
        case BenchQuantity::nut_height:
            return "nut height";
        case BenchQuantity::fret_height:
            return "fret height";
        case BenchQuantity::pickup_height:
            return "pickup height";
    }
    assert(false);
    return {};
}

std::string_view in_words(BridgeKind bridge) {
    switch (bridge) {
        case BridgeKind::individual_saddles:
            return "a saddle for each string";
        case BridgeKind::shared_saddles:
            return "saddles shared by strings";
        case BridgeKind::one_piece:
            return "one saddle for all strings";
    }
    assert(false);
    return {};
}

std::string in_words(const BenchMethod& method) {
    std::vector<std::string> parts;
    if (!method.pickup.empty()) parts.push_back(method.pickup + " pickup");
    if (method.capo) parts.push_back(fmt::format("capo at fret {}", *method.capo));
    std::vector<std::string> held;
    for (const int fret : method.held)
        held.push_back(std::to_string(fret));
    if (method.last_fret_held) held.emplace_back("the last");
    if (!held.empty()) {
        parts.push_back(fmt::format("held at fret {}", fmt::join(held, " and ")));
    }
    if (method.read_at) parts.push_back(fmt::format("read at fret {}", *method.read_at));
    if (!method.tool.empty()) parts.push_back(method.tool);
    return fmt::format("{}", fmt::join(parts, ", "));
}

std::string gauge_in_words(const StringGauge& string) {
    const auto thousandths = [](Millimetres d) {
        return fmt::format("{:.3g}", std::round(1e4 * (d / millimetres_per_inch)) / 10.0);
    };
    std::string text = thousandths(string.gauge);
    if (string.wound) text += 'w';
    if (string.core) text += '/' + thousandths(*string.core);
    return text;
}

std::string bench_length(Millimetres length, LengthUnit unit) {
    return unit == LengthUnit::inches ? rounded(length / millimetres_per_inch, 3) + " in"
                                      : rounded(length.value(), 2) + " mm";
}

std::string bench_length_in_both(Millimetres length, LengthUnit first) {
    const LengthUnit second = first == LengthUnit::inches ? LengthUnit::millimetres : LengthUnit::inches;
    return fmt::format("{} ({})", bench_length(length, first), bench_length(length, second));
}

}  // namespace midspan
