// statistics.hpp: what a list of errors comes to.
//
// Room: tools/benchmark. Pure.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <span>
#include <vector>

namespace midspan::benchmark {

/// The value a share of `values` lies at or below, interpolated between neighbours; share 0 to 1. Not a
/// number when there are none.
[[nodiscard]] inline double quantile(std::vector<double> values, double share) {
    if (values.empty()) return std::numeric_limits<double>::quiet_NaN();
    std::sort(values.begin(), values.end());
    const double place = share * static_cast<double>(values.size() - 1);
    const auto below = static_cast<std::size_t>(place);
    if (below + 1 >= values.size()) return values.back();
    const double part = place - static_cast<double>(below);
    return (1.0 - part) * values[below] + part * values[below + 1];
}

[[nodiscard]] inline double root_mean_square(std::span<const double> values) {
    double sum = 0.0;
    for (const double value : values)
        sum += value * value;
    return std::sqrt(sum / static_cast<double>(values.size()));
}

}  // namespace midspan::benchmark
