// figures.cpp: rounding that says no more than is known.
//
// Room: view. Pure.
#include "view/figures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace midspan {
namespace {

constexpr double finest = 0.001;

}  // namespace

int decimals_for(double expanded) {
    const double u = std::max(expanded, finest);
    const int exponent = static_cast<int>(std::floor(std::log10(u) + 1e-9));
    const double leading = u / std::pow(10.0, exponent);
    const int digits = leading < 2.95 ? 2 : 1;
    return std::min(digits - 1 - exponent, 3);
}

std::string rounded(double value, int decimals, Sign sign) {
    const double step = std::pow(10.0, -decimals);
    const double whole = std::round(value / step);
    if (whole == 0.0) return fmt::format("{:.{}f}", 0.0, std::max(decimals, 0));
    return sign == Sign::always ? fmt::format("{:+.{}f}", whole * step, std::max(decimals, 0))
                                : fmt::format("{:.{}f}", whole * step, std::max(decimals, 0));
}

std::string with_uncertainty(double value, double expanded, std::string_view plus_minus, Sign sign) {
    const int decimals = decimals_for(expanded);
    return fmt::format("{} {} {}", rounded(value, decimals, sign), plus_minus,
                       rounded(std::max(expanded, finest), decimals));
}

std::string_view plus_minus(const Look& look) { return look.utf8 ? "±" : "+-"; }

std::string minutes_and_seconds(Seconds time) {
    const auto whole = static_cast<long long>(std::floor(std::max(time.value(), 0.0)));
    return fmt::format("{}:{:02}", whole / 60, whole % 60);
}

}  // namespace midspan
