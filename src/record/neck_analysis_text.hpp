// neck_analysis_text.hpp: one survey as the text that the store keeps.
//
// Room: record, private. Pure. May include: ground to measurement.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "midspan/measurement/survey.hpp"

namespace midspan {

/// The JSON object that the export has as `analysis` of a survey, on one line.
[[nodiscard]] std::string neck_analysis_text(const NeckAnalysis& analysis);

/// The same read back; nothing where it is no such object, or holds what makes no sense.
[[nodiscard]] std::optional<NeckAnalysis> neck_analysis_in(std::string_view text);

}  // namespace midspan
