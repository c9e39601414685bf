// neck_scene.hpp: a whole neck plucked note by note, as a survey wants it.
//
// Room: tools/make_test_audio. May include: tests/support.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "midspan/units.hpp"

namespace midspan::test {

/// A take that is ready to be written.
struct PlayedNeck {
    std::string file;
    Hertz sample_rate;
    std::vector<std::int16_t> samples;  ///< one channel
    std::string truth;                  ///< one JSON object
};

/// A guitar by physics: exact lengths, stretch and stiffness, its saddles set at the 12th fret; then fret 9
/// too near the bridge, one saddle too near the nut, the nut too high. Each string open, then at eight frets.
[[nodiscard]] PlayedNeck play_neck();

}  // namespace midspan::test
