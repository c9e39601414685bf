// bench_notes.hpp: what to know beside the numbers: warnings, and cautions where they matter.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>

#include "midspan/measurement/analysis.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// The warnings in the order they were given, those that say the same said once with all their strings and
/// times; empty when there are none. None is left out.
[[nodiscard]] std::string bench_warnings(const Analysis& analysis, const Look& look);

/// What to mind before a screw is turned, and what the trade does where the travel is not enough (common
/// practice, no source); empty when no move is advised.
[[nodiscard]] std::string bench_cautions(const Analysis& analysis, const Look& look);

}  // namespace midspan
