// reference_pitch.hpp: the pitch of a note as other libraries hear it.
//
// Room: tools/benchmark. Edge: the disk and another program (Praat). May include: ground.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "midspan/units.hpp"

namespace midspan::benchmark {

/// A pitch method of aubio, by its name there, and the window it is given.
struct AubioMethod {
    const char* name;
    unsigned window;  ///< samples
};

/// The median of the frames' pitches, frames a quarter window apart; nothing when no frame has one.
[[nodiscard]] std::optional<Hertz> aubio_pitch(const AubioMethod& method, std::span<const float> note,
                                               Hertz sample_rate);

/// The program praat, if it is installed.
[[nodiscard]] bool praat_is_installed();

/// The median of the frames' pitches by Praat's autocorrelation method, of each WAV file in order, between
/// two frequencies. All through one run of praat; throws when that fails.
[[nodiscard]] std::vector<std::optional<Hertz>> praat_pitches(const std::vector<std::string>& paths,
                                                              Hertz lowest, Hertz highest,
                                                              const std::string& folder);

}  // namespace midspan::benchmark
