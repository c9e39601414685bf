// saddle_move.cpp: from an intonation error to the distance a saddle travels.
//
// Room: advice. Pure. May include: ground, instrument, comparison.
#include "midspan/advice/saddle_move.hpp"

#include <fmt/format.h>

#include <array>
#include <cassert>
#include <cmath>
#include <numbers>
#include <numeric>

namespace midspan {
namespace {

constexpr double model_uncertainty = 0.012;  // of the move; see the header
constexpr std::array travel_remedies{
    std::string_view{"turn the saddle around in its slot, which gains about 1/16 in (1.6 mm)"},
    std::string_view{"fit a bridge whose saddles travel farther"},
    std::string_view{"try other strings: a thinner core or a wound third needs less length"},
    std::string_view{"as the last resort have a luthier move the bridge"},
};

}  // namespace

SaddleMove saddle_move(Uncertain<Cents> error, Millimetres scale_length) {
    assert(std::abs(error.value.value()) <= 100.0 && scale_length.value() > 0.0);
    // d = error L ln 2 / 1200
    const Millimetres per_cent = std::numbers::ln2 / 1200.0 * scale_length;
    const Millimetres move = error.value.value() * per_cent;
    const double from_error = error.uncertainty.value() * per_cent.value();
    const double from_model = model_uncertainty * move.value();
    return {move, Millimetres{std::hypot(from_error, from_model)}};
}

std::string turns_in_words(Turns turns) {
    const double size = std::abs(turns.value());
    const long eighths = std::lround(8.0 * size);
    if (16.0 * size < 1.0) return "a touch";
    const long whole = eighths / 8;
    const long rest = eighths % 8;
    if (rest == 0) return fmt::format("{} turn{}", whole, whole == 1 ? "" : "s");
    const long common = std::gcd(rest, 8L);
    const std::string fraction = fmt::format("{}/{}", rest / common, 8 / common);
    if (whole == 0) return fmt::format("{} turn", fraction);
    return fmt::format("{} {} turns", whole, fraction);
}

bool within_travel(Millimetres toward_tail, const Saddle& saddle) {
    const auto& travel = toward_tail.value() > 0.0 ? saddle.travel_toward_tail : saddle.travel_toward_nut;
    return !travel || magnitude(toward_tail) <= *travel;
}

std::span<const std::string_view> when_travel_runs_out() { return travel_remedies; }

}  // namespace midspan
