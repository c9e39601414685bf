// window_response.hpp: what a window keeps of a tone that turns within it.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <array>
#include <complex>
#include <cstddef>
#include <span>

namespace midspan {

/// The mean of exp(i (w t + c t^2 / 2)) under a symmetric window w(t), t from its middle:
///
///     R(w, c) = M(w) + (i c / 2) m(w),   M(w) = <cos w t>,   m(w) = <t^2 cos w t>,
///
/// by their power series, whose coefficients are the window's moments; the chirp c to first order.
class WindowResponse {
public:
    /// A window that keeps everything.
    WindowResponse() { moments_[0] = 1.0; }

    /// weights  the window, symmetric, of any height
    /// rate     of its samples, Hz
    WindowResponse(std::span<const float> weights, double rate);

    /// off    angular frequency, rad/s; beyond 9 over half the window's length it is taken for that
    /// chirp  its rise, rad/s^2, small against the square of one over the window's length
    [[nodiscard]] std::complex<double> at(double off, double chirp) const;

private:
    static constexpr std::size_t terms = 16;
    std::array<double, terms + 1> moments_{};  // of even order, over their factorials, in half windows
    double half_ = 1.0;                        // of the window, s
};

}  // namespace midspan
