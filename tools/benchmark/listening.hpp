// listening.hpp: a note through the whole chain, from samples to pitch.
//
// Room: tools/benchmark. Pure. May include: ground, notes, pitch.
#pragma once

#include <optional>
#include <span>

#include "midspan/pitch/pitch_estimator.hpp"
#include "midspan/pitch/pitch_reading.hpp"
#include "midspan/units.hpp"

namespace midspan::benchmark {

/// What a six-string guitar needs: three semitones below its lowest string to three above its highest octave.
inline constexpr Hertz lowest_of_guitar{69.3};
inline constexpr Hertz highest_of_guitar{784.0};

struct Heard {
    PitchReading reading;
    Seconds settling;  ///< from the attack to the first sample that was looked at
};

/// Finds the pluck that stands `start` after the first sample, within 0.1 s, and measures it. Nothing when
/// none is found there or it has no pitch.
[[nodiscard]] std::optional<Heard> heard(std::span<const float> samples, Hertz sample_rate, Seconds start,
                                         PitchEstimator& estimator, Hertz lowest = lowest_of_guitar);

}  // namespace midspan::benchmark
