// real_transform.cpp: the Fourier transform of real samples, by KissFFT.
//
// Room: ground. Pure. May include: nothing.
#include "ground/real_transform.hpp"

#include <kiss_fftr.h>

#include <cassert>
#include <new>
#include <type_traits>

namespace midspan {

class RealTransform::Plan {
public:
    explicit Plan(std::size_t size) : state_{kiss_fftr_alloc(static_cast<int>(size), 0, nullptr, nullptr)} {
        if (!state_) throw std::bad_alloc{};
    }
    void transform(const float* samples, kiss_fft_cpx* bins) const { kiss_fftr(state_.get(), samples, bins); }

private:
    struct Free {
        void operator()(kiss_fftr_cfg state) const { kiss_fftr_free(state); }
    };
    std::unique_ptr<std::remove_pointer_t<kiss_fftr_cfg>, Free> state_;
};

RealTransform::RealTransform(std::size_t size) : size_{size}, plan_{std::make_unique<Plan>(size)} {
    assert(size % 2 == 0);
}
RealTransform::~RealTransform() = default;
RealTransform::RealTransform(RealTransform&&) noexcept = default;
RealTransform& RealTransform::operator=(RealTransform&&) noexcept = default;

void RealTransform::transform(std::span<const float> samples, std::span<std::complex<float>> bins) const {
    static_assert(std::is_same_v<kiss_fft_scalar, float> && sizeof(kiss_fft_cpx) == sizeof bins[0]);
    assert(samples.size() == size_ && bins.size() == this->bins());
    // Two floats, real and imaginary, in either.
    plan_->transform(samples.data(), reinterpret_cast<kiss_fft_cpx*>(bins.data()));
}

}  // namespace midspan
