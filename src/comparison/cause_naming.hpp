// cause_naming.hpp: names, sizes and rivals for the causes that a search has found.
//
// Room: comparison. Pure. May include: ground, instrument.
#pragma once

#include <vector>

#include "comparison/cause_evidence.hpp"
#include "comparison/cause_search.hpp"
#include "comparison/neck_model.hpp"
#include "midspan/comparison/neck_survey.hpp"

namespace midspan {

/// The findings of those chosen, what to do first first. A cause has rivals where others would explain the
/// same notes nearly as well, less than 19 : 1 behind it; and then one or two notes that would decide.
/// Beside a string that fits nothing its own saddle and nut have no name.
[[nodiscard]] std::vector<NeckFinding> name_causes(const NeckModel& model, const CauseSearch& search,
                                                   const CauseEvidence::Chosen& chosen,
                                                   const NeckSurveyOptions& options);

}  // namespace midspan
