// sound_source.hpp: where samples come from; a file and a microphone differ in nothing else.
//
// Room: sound. Pure.
#pragma once

#include "midspan/result.hpp"
#include "midspan/sound/audio_block.hpp"

namespace midspan {

class SoundSource {
public:
    virtual ~SoundSource() = default;

    [[nodiscard]] virtual AudioFormat format() const = 0;

    /// The next frames; a block without frames says that there are no more.
    [[nodiscard]] virtual Result<AudioBlock> next() = 0;
};

}  // namespace midspan
