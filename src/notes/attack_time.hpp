// attack_time.hpp: when exactly a string was let go.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include "notes/frame_history.hpp"
#include "notes/sample_store.hpp"

namespace midspan {

/// The sample at which the attack around frame `begin` begins, to about a millisecond: where the energy of
/// the difference from sample to sample, which leaves out hum and low strings that still ring, first reaches
/// a tenth of its maximum and stands out of what was before. How the frames lie moves it by a sample or two.
[[nodiscard]] SampleNumber attack_time(const SampleStore& store, FrameNumber begin,
                                       SampleNumber frame_length);

}  // namespace midspan
