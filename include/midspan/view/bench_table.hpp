// bench_table.hpp: an analysis as a person at the bench reads it.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>

#include "midspan/measurement/analysis.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// What was heard and, string by string as a player says the tuning (string 1 last), what to do: tuning,
/// error, verdict, and the move with direction, turns and travel left when they are known.
///
/// Every value stands with plus or minus two standard uncertainties and is rounded to them. At most 80
/// columns wide, unless a file's name alone is longer. The same in every locale.
[[nodiscard]] std::string bench_table(const Analysis& analysis, const Look& look);

}  // namespace midspan
