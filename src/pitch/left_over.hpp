// left_over.hpp: what a model leaves over of one partial, and what that says about it.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <span>

namespace midspan {

/// a times b, without the detour that complex multiplication takes for infinities.
inline std::complex<double> product(std::complex<double> a, std::complex<double> b) {
    return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

/// conj(a) times b.
inline std::complex<double> turned_back(std::complex<double> a, std::complex<double> b) {
    return {a.real() * b.real() + a.imag() * b.imag(), a.real() * b.imag() - a.imag() * b.real()};
}

/// a times i.
inline std::complex<double> quarter_turned(std::complex<double> a) { return {-a.imag(), a.real()}; }

/// Minus twice the logarithm of the likelihood, up to a constant: of `length` values that leave `squares`,
/// on average no less than `least` each. `overlap` is the tracks'.
inline double misfit_of(double squares, std::size_t length, double least, double overlap) {
    const auto n = static_cast<double>(length);
    return 2.0 / overlap * n * std::log(std::max(squares / n, least));
}

/// What is left over hangs together by more than this: it is not noise.
inline constexpr double structured = 0.1;

/// How much what is left, of power `squares`, hangs together over time: up to 1; about 0 for noise, which has
/// nothing in common with itself a few values later, as a beat or a hum line has.
inline double structure_of(std::span<const std::complex<double>> left, double squares) {
    if (!(squares > 0.0)) return 0.0;
    std::complex<double> common{};
    for (std::size_t m = 3; m < left.size(); ++m)
        common += turned_back(left[m - 3], left[m]);
    const double by_chance = 2.0 / std::sqrt(static_cast<double>(left.size()));
    return std::max(0.0, std::abs(common) / squares - by_chance);
}

}  // namespace midspan
