// power_spectrum.cpp: a Hann window and a real transform, by KissFFT in single precision.
//
// Room: notes. Pure. May include: nothing.
#include "notes/power_spectrum.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <kissfft.hh>
#include <numbers>

namespace midspan {

class PowerSpectrum::Plan {
public:
    explicit Plan(std::size_t size) : fft{size / 2, false} {}
    kissfft<float> fft;
};

PowerSpectrum::PowerSpectrum(std::size_t size)
    : padded_(size), bins_(size / 2), plan_{std::make_unique<Plan>(size)} {
    assert(size % 2 == 0);
}
PowerSpectrum::~PowerSpectrum() = default;

void PowerSpectrum::of(std::span<const float> samples, std::span<float> power) {
    assert(samples.size() >= 2 && samples.size() <= padded_.size() && power.size() <= bins_.size());
    const auto step = static_cast<float>(2.0 * std::numbers::pi / static_cast<double>(samples.size()));
    for (std::size_t n = 0; n < samples.size(); ++n)
        padded_[n] = (0.5F - 0.5F * std::cos(step * (static_cast<float>(n) + 0.5F))) * samples[n];
    std::fill(padded_.begin() + static_cast<std::ptrdiff_t>(samples.size()), padded_.end(), 0.0F);
    plan_->fft.transform_real(padded_.data(), bins_.data());
    const float scale = 2.0F / static_cast<float>(samples.size());  // 1 / sum of the window
    for (std::size_t k = 0; k < power.size(); ++k)
        power[k] = scale * scale * std::norm(bins_[k]);
    power[0] = scale * scale * bins_[0].real() * bins_[0].real();  // its imaginary part is the Nyquist bin
}

}  // namespace midspan
