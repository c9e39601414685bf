// analysis_json.hpp: an analysis for other programs, schema midspan/analysis/1.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>

#include "midspan/measurement/analysis.hpp"

namespace midspan {

/// The analysis as one indented JSON object with a newline behind it. The README describes every key.
///
/// Strings come as a player says the tuning, string 1 last. Numbers keep full precision; what is not known is
/// null, and so would be a number that is not finite. Every uncertainty is a standard
/// uncertainty (k = 1). Bytes of a file name that are no UTF-8 become U+FFFD.
[[nodiscard]] std::string analysis_json(const Analysis& analysis);

}  // namespace midspan
