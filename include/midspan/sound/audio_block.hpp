// audio_block.hpp: samples on their way in.
//
// Room: sound. Pure.
#pragma once

#include <cstddef>
#include <span>

#include "midspan/units.hpp"

namespace midspan {

struct AudioFormat {
    Hertz sample_rate;  ///< 8,000 to 192,000
    int channels;       ///< 1 or more
};

/// A view of some frames, oldest first, channels interleaved, full scale at +-1. Valid until the source
/// is asked for the next one.
struct AudioBlock {
    std::span<const float> samples;
    int channels;

    [[nodiscard]] std::size_t frames() const { return samples.size() / static_cast<std::size_t>(channels); }
};

}  // namespace midspan
