// window_response.cpp: what a window keeps of a tone that turns within it.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/window_response.hpp"

#include <algorithm>

namespace midspan {
namespace {

constexpr double furthest = 9.0;  // from there on next to nothing is kept

}  // namespace

WindowResponse::WindowResponse(std::span<const float> weights, double rate)
    : half_{0.5 * static_cast<double>(weights.size()) / rate} {
    double sum = 0.0;
    for (std::size_t i = 0; i < weights.size(); ++i) {
        const double x = (2.0 * static_cast<double>(i) + 1.0) / static_cast<double>(weights.size()) - 1.0;
        double power = static_cast<double>(weights[i]);
        sum += power;
        for (double& moment : moments_) {
            moment += power;
            power *= x * x;
        }
    }
    double scale = 1.0 / sum;
    for (std::size_t n = 0; n <= terms; ++n) {
        moments_[n] *= scale;
        const double order = 2.0 * static_cast<double>(n);
        scale /= -(order + 1.0) * (order + 2.0);
    }
}

std::complex<double> WindowResponse::at(double off, double chirp) const {
    // moments_[n] x^2n summed is M; since m is minus M'' in x, term n of it has (2n + 1) (2n + 2) moment n
    // + 1.
    const double x = std::clamp(off * half_, -furthest, furthest);
    const double square = x * x;
    double kept = moments_[terms];
    double spread = 0.0;
    for (std::size_t n = terms; n-- > 0;) {
        const double order = 2.0 * static_cast<double>(n);
        kept = kept * square + moments_[n];
        spread = spread * square - (order + 1.0) * (order + 2.0) * moments_[n + 1];
    }
    return {kept, 0.5 * chirp * half_ * half_ * spread};
}

}  // namespace midspan
