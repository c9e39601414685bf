// real_transform.hpp: the Fourier transform of real samples.
//
// Room: ground. Pure. May include: nothing.
#pragma once

#include <complex>
#include <cstddef>
#include <memory>
#include <span>

namespace midspan {

/// Transforms of one fixed even size, in single precision: what rounding adds lies 120 dB below the strongest
/// bin. Allocates when it is made, never afterwards. The only file that knows KissFFT.
class RealTransform {
public:
    explicit RealTransform(std::size_t size);
    ~RealTransform();
    RealTransform(RealTransform&&) noexcept;
    RealTransform& operator=(RealTransform&&) noexcept;

    [[nodiscard]] std::size_t size() const { return size_; }
    /// From the sum of the samples to half the sample rate.
    [[nodiscard]] std::size_t bins() const { return size_ / 2 + 1; }

    /// samples  size() of them
    /// bins     bins() of them
    void transform(std::span<const float> samples, std::span<std::complex<float>> bins) const;

private:
    class Plan;
    std::size_t size_;
    std::unique_ptr<Plan> plan_;
};

}  // namespace midspan
