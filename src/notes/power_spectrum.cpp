// power_spectrum.cpp: a Hann window and a real transform.
//
// Room: notes. Pure. May include: ground.
#include "notes/power_spectrum.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace midspan {

PowerSpectrum::PowerSpectrum(std::size_t size) : transform_{size}, padded_(size), bins_(transform_.bins()) {}

void PowerSpectrum::of(std::span<const float> samples, std::span<float> power) {
    assert(samples.size() >= 2 && samples.size() <= padded_.size() && power.size() <= bins_.size());
    const auto step = static_cast<float>(2.0 * std::numbers::pi / static_cast<double>(samples.size()));
    for (std::size_t n = 0; n < samples.size(); ++n)
        padded_[n] = (0.5F - 0.5F * std::cos(step * (static_cast<float>(n) + 0.5F))) * samples[n];
    std::fill(padded_.begin() + static_cast<std::ptrdiff_t>(samples.size()), padded_.end(), 0.0F);
    transform_.transform(padded_, bins_);
    const float scale = 2.0F / static_cast<float>(samples.size());  // 1 / sum of the window
    for (std::size_t k = 0; k < power.size(); ++k)
        power[k] = scale * scale * std::norm(bins_[k]);
}

}  // namespace midspan
