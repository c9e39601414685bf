// detectable_sizes.hpp: how large a fault must be to show in plucks like these.
//
// Room: comparison. Pure. May include: ground, instrument.
#pragma once

#include <vector>

#include "comparison/neck_model.hpp"
#include "midspan/comparison/neck_survey.hpp"

namespace midspan {

/// Sizes that 95 of 100 surveys would find, of saddle, nut and frets. Of what can happen to one string alone,
/// that of the string where least shows.
[[nodiscard]] std::vector<DetectableSize> detectable_sizes(const NeckModel& model, double scatter);

}  // namespace midspan
