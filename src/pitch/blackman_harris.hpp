// blackman_harris.hpp: the window through which partials are looked at.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <cmath>
#include <numbers>

namespace midspan {

/// The minimum four-term window over 0 <= x <= 1, up to 1 in its middle: side lobes at -92 dB beyond four
/// over its length (F. J. Harris 1978; coefficients from memory).
inline double blackman_harris(double x) {
    constexpr double tau = 2.0 * std::numbers::pi;
    return 0.35875 - 0.48829 * std::cos(tau * x) + 0.14128 * std::cos(2.0 * tau * x) -
           0.01168 * std::cos(3.0 * tau * x);
}

}  // namespace midspan
