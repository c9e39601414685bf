// attack_time.cpp: when exactly a string was let go.
//
// Room: notes. Pure. May include: ground.
#include "notes/attack_time.hpp"

#include <algorithm>
#include <cstddef>
#include <span>

namespace midspan {

SampleNumber attack_time(const SampleStore& store, FrameNumber begin, SampleNumber frame_length) {
    const SampleNumber first = std::max<SampleNumber>(0, (begin - 4) * frame_length);
    const SampleNumber earliest = std::max<SampleNumber>(0, (begin - 2) * frame_length);
    const std::span<const float> around = store.between(first, (begin + 3) * frame_length);
    const auto chunk = static_cast<std::size_t>(frame_length / 5);
    const auto surely_before = static_cast<std::size_t>(earliest - first);

    const auto energy = [&](std::size_t from) {
        float sum = 0.0F;
        for (std::size_t i = from; i < from + chunk; ++i)
            sum += (around[i + 1] - around[i]) * (around[i + 1] - around[i]);
        return sum;
    };
    float loudest = 0.0F;
    float before = 0.0F;
    for (std::size_t i = 0; i + chunk < around.size(); ++i) {
        loudest = std::max(loudest, energy(i));
        if (i + chunk <= surely_before) before = std::max(before, energy(i));
    }
    const float least = std::min(std::max(0.1F * loudest, 1.5F * before), 0.7F * loudest);
    std::size_t at = surely_before;
    while (at + chunk < around.size() && energy(at) < least)
        ++at;
    return first + static_cast<SampleNumber>(at + chunk / 2);
}

}  // namespace midspan
