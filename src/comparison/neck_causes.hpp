// neck_causes.hpp: the causes at work along a neck, found among all that could be.
//
// Room: comparison. Pure. May include: ground, instrument.
#pragma once

#include <vector>

#include "midspan/comparison/neck_survey.hpp"

namespace midspan {

/// What the search for causes has to say.
struct NeckCauses {
    std::vector<NeckFinding> findings;  // what to do first stands first
    std::vector<bool> bent;             // one an observation
    std::vector<double> fitted;         // cents, by the causes found, one an observation
    std::vector<double> unexplained;    // cents, beyond causes and what is usual, one an observation
    double scatter;                     // cents, of one pluck
    std::vector<DetectableSize> detectable;
};

/// observations  their errors against the target, at least one, each of one of the strings
[[nodiscard]] NeckCauses find_causes(const std::vector<SurveyedString>& strings,
                                     const std::vector<NeckObservation>& observations,
                                     const NeckSurveyOptions& options);

}  // namespace midspan
