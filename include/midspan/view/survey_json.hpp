// survey_json.hpp: a survey for other programs.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>

#include "midspan/measurement/survey.hpp"

namespace midspan {

/// One JSON object, schema midspan/survey/1, with a line end. Full precision; every uncertainty is one
/// standard uncertainty; lengths in millimetres, the saddle's positive toward the tail, the nut's toward the
/// bridge; what is not known is null.
[[nodiscard]] std::string survey_json(const NeckAnalysis& analysis);

}  // namespace midspan
