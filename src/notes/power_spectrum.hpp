// power_spectrum.hpp: the power spectrum of a short stretch of sound.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "ground/real_transform.hpp"

namespace midspan {

/// Under a Hann window, padded with zeros, scaled so that a sine of amplitude a peaks at a^2 / 4 whatever
/// the length of the stretch. Allocates when it is made, never afterwards.
class PowerSpectrum {
public:
    /// size  of the transform, even; the bins lie sample_rate / size apart
    explicit PowerSpectrum(std::size_t size);

    [[nodiscard]] std::size_t size() const { return padded_.size(); }

    /// samples  at most size() of them, at least 2
    /// power    bins 0 to power.size() - 1, at most size() / 2 + 1 of them
    void of(std::span<const float> samples, std::span<float> power);

private:
    RealTransform transform_;
    std::vector<float> padded_;
    std::vector<std::complex<float>> bins_;
};

}  // namespace midspan
