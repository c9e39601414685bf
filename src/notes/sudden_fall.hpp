// sudden_fall.hpp: tells when a string is stopped.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <optional>

#include "notes/frame_history.hpp"

namespace midspan {

/// What is left of a level, over the bands in which it stood 8 dB out of the quiet and was not 20 dB below
/// the strongest; 1 if there are no such bands.
struct LevelLeft {
    float on_average = 1.0F;  ///< geometric mean over the bands, ratio of mean squares
    float most = 1.0F;        ///< in the band that fell least
};
[[nodiscard]] LevelLeft level_left(const BandValues& before, const BandValues& now, const BandValues& quiet);

/// Whether the sound, over its last `over` frames up to `n`, is much lower than 80 ms before: by 10 dB on
/// average and by 2 dB in each band. A string that did so of itself would have a T60 of 0.5 s. The last
/// frame that is surely before the fall, or nothing.
[[nodiscard]] std::optional<FrameNumber> sudden_fall(const FrameHistory& history, const BandValues& quiet,
                                                     FrameNumber n, FrameNumber over);

}  // namespace midspan
