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
    const double c = std::cos(2.0 * std::numbers::pi * x);
    return 0.35875 - 0.48829 * c + 0.14128 * (2.0 * c * c - 1.0) - 0.01168 * c * (4.0 * c * c - 3.0);
}

}  // namespace midspan
