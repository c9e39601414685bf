// as_said.hpp: strings in the order a player says the tuning.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <functional>
#include <vector>

#include "midspan/measurement/analysis.hpp"

namespace midspan {

/// String 1 last; valid as long as the analysis.
[[nodiscard]] inline std::vector<std::reference_wrapper<const AnalysedString>> as_said(
    const Analysis& analysis) {
    return {analysis.strings.rbegin(), analysis.strings.rend()};
}

}  // namespace midspan
