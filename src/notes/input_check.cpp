// input_check.cpp: samples that overloaded the input and samples that are no numbers.
//
// Room: notes. Pure. May include: nothing.
#include "notes/input_check.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>

namespace midspan {
namespace {

constexpr float nearly_full_scale = 0.985F;
constexpr float too_large_for_sound = 1e6F;
constexpr float lowest_flat_top = 0.1F;
constexpr int shortest_run = 3;

// Most sound is harmless, and that is told for a group of samples at once, without a branch.
constexpr std::size_t group = 32;

bool harmless(std::span<const float, group> samples, float previous) {
    int suspects = samples[0] == previous ? 1 : 0;
    for (std::size_t i = 0; i < group; ++i)
        suspects += std::abs(samples[i]) < nearly_full_scale ? 0 : 1;
    for (std::size_t i = 1; i < group; ++i) {
        const int repeats = samples[i] == samples[i - 1] ? 1 : 0;
        const int high = std::abs(samples[i]) >= lowest_flat_top ? 1 : 0;
        suspects += repeats & high;
    }
    return suspects == 0;
}

}  // namespace

InputFlaws InputCheck::copy_clean(std::span<const float> samples, std::span<float> clean) {
    assert(samples.size() == clean.size());
    InputFlaws flaws;
    std::copy(samples.begin(), samples.end(), clean.begin());
    while (!samples.empty()) {
        const std::size_t count = std::min(group, samples.size());
        if (count == group && harmless(samples.first<group>(), previous_)) {
            previous_ = samples[count - 1];
            loud_run_ = 0;
            equal_run_ = 1;
        } else {
            for (std::size_t i = 0; i < count; ++i)
                clean[i] = look_closer(samples[i], flaws);
        }
        samples = samples.subspan(count);
        clean = clean.subspan(count);
    }
    return flaws;
}

float InputCheck::look_closer(float sample, InputFlaws& flaws) {
    if (!(std::abs(sample) <= too_large_for_sound)) {  // also true of NaN
        flaws.not_finite = true;
        sample = 0.0F;
    }
    loud_run_ = std::abs(sample) >= nearly_full_scale ? loud_run_ + 1 : 0;
    equal_run_ = sample == previous_ ? equal_run_ + 1 : 1;
    previous_ = sample;
    if (loud_run_ >= shortest_run) flaws.clipped = true;
    if (equal_run_ == shortest_run && std::abs(sample) >= lowest_flat_top) {
        // A quantised low note has flat tops of its own, but each lower than the one before.
        float& flat_top = sample > 0.0F ? flat_top_above_ : flat_top_below_;
        if (sample == flat_top) flaws.clipped = true;
        flat_top = sample;
    }
    return sample;
}

}  // namespace midspan
