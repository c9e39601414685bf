// rendered_notes.hpp: recorded notes of real instruments, played at a known pitch by a sampler.
//
// Room: tests/support. Edge: the disk and another program. May include: ground.
#pragma once

#include <filesystem>
#include <span>
#include <string>

#include "midspan/units.hpp"

namespace midspan::test {

/// A key that is held, and how far the channel is tuned away from it.
struct PlayedKey {
    int key;    ///< MIDI: 60 is C4, 69 is A4
    int cents;  ///< -100 to 99
};

/// What the MIDI file asks for where PlayedKey says a whole number of cents: the next step of channel fine
/// tuning at or above it, less than 0.0123 cent away. Fluidsynth plays whole cents and drops what is beyond.
///
/// MIDI 1.0, registered parameter 1 (from memory): 14 bits, 8192 in the middle, 8192 steps to 100 cents.
/// Pitch bend would not do: fluidsynth 2.3.1 was seen to bend by less than it is asked to, 24 cents for 25.
[[nodiscard]] int fine_tuning_steps(int cents);

/// How the keys follow each other.
struct KeyTiming {
    Seconds held{3.0};
    Seconds pause{0.6};  ///< from letting one go to the next
};

/// Where Debian puts the sound font TimGM6mb.
inline const std::filesystem::path tim_gm_sound_font{"/usr/share/sounds/sf2/TimGM6mb.sf2"};

/// Plays keys one after the other with a recorded instrument, neither reverb nor chorus, into a stereo WAV
/// file of 48 kHz in `folder`, and returns its path. Needs the program fluidsynth; throws, with a line that
/// names the packages, when it or the sound font is missing.
///
/// instrument  number in the General MIDI list, counted from 0: 24 is the nylon-string guitar
[[nodiscard]] std::string rendered_notes(const std::filesystem::path& folder,
                                         const std::filesystem::path& sound_font, int instrument,
                                         std::span<const PlayedKey> keys, KeyTiming timing = {});

}  // namespace midspan::test
