// spectrum.cpp: the Fourier transform of real samples, by KissFFT in double precision.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/spectrum.hpp"

#include <cassert>
#include <cmath>
#include <kissfft.hh>

namespace midspan {

class Spectrum::Plan {
public:
    explicit Plan(std::size_t size) : fft{size / 2, false} {}
    mutable kissfft<double> fft;
};

Spectrum::Spectrum(std::size_t size) : size_{size}, plan_{std::make_unique<Plan>(size)} {
    assert(size % 2 == 0);
}
Spectrum::~Spectrum() = default;
Spectrum::Spectrum(Spectrum&&) noexcept = default;
Spectrum& Spectrum::operator=(Spectrum&&) noexcept = default;

void Spectrum::transform(std::span<const double> samples, std::span<std::complex<double>> bins) const {
    assert(samples.size() == size_ && bins.size() == size_ / 2);
    plan_->fft.transform_real(samples.data(), bins.data());
}

}  // namespace midspan
