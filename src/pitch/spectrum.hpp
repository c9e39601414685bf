// spectrum.hpp: the Fourier transform of real samples.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <complex>
#include <cstddef>
#include <memory>
#include <span>

namespace midspan {

/// Transforms of one fixed even size. Allocates when it is made, never afterwards.
class Spectrum {
public:
    explicit Spectrum(std::size_t size);
    ~Spectrum();
    Spectrum(Spectrum&&) noexcept;
    Spectrum& operator=(Spectrum&&) noexcept;

    [[nodiscard]] std::size_t size() const { return size_; }

    /// samples  size() of them
    /// bins     size()/2 of them; bin 0 holds the sum in its real part and the alternating sum (half the
    ///          sample rate) in its imaginary part
    void transform(std::span<const double> samples, std::span<std::complex<double>> bins) const;

private:
    class Plan;
    std::size_t size_;
    std::unique_ptr<Plan> plan_;
};

}  // namespace midspan
