// measured_text.hpp: what a measurement found, as a command shows it.
//
// Room: program. Pure. May include: everything.
#pragma once

#include <optional>
#include <string>

#include "midspan/measurement/analysis.hpp"
#include "midspan/result.hpp"
#include "midspan/view/look.hpp"

namespace midspan::program {

/// Table, drawing of the bridge, warnings and cautions.
[[nodiscard]] std::string measured_text(const Analysis& analysis, const Look& look);

/// The error to tell of when not a single note could be used.
[[nodiscard]] std::optional<Error> nothing_measured(const Analysis& analysis);

}  // namespace midspan::program
