// sound_font.hpp: the recordings inside a sound font.
//
// Room: tools/benchmark. Edge: the disk. May include: ground.
#pragma once

#include <string>
#include <vector>

#include "midspan/units.hpp"

namespace midspan::benchmark {

/// One channel of sound as it was recorded, up to where the font would begin to repeat it.
struct FontRecording {
    std::string name;
    Hertz sample_rate;
    std::vector<float> samples;
};

/// All recordings of one channel in a SoundFont 2 file, in its order.
///
/// The chunks are those of the SoundFont Technical Specification 2.04 (2006): 'smpl' holds 16-bit samples,
/// 'shdr' 46 bytes a recording: its name, where it begins, ends and is repeated, its rate, its kind (layout
/// from memory). Throws std::runtime_error if the file cannot be read or is no sound font.
[[nodiscard]] std::vector<FontRecording> font_recordings(const std::string& path);

}  // namespace midspan::benchmark
