// complex_fours.hpp: complex numbers whose real and imaginary parts stand apart, four at a time.
//
// Room: ground. Pure. May include: nothing.
#pragma once

#include <algorithm>
#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "ground/widest_registers.hpp"

namespace midspan {

/// Four complex numbers side by side.
struct FourComplex {
    FourDoubles real{};
    FourDoubles imaginary{};

    FourComplex& operator+=(const FourComplex& more) {
        real += more.real;
        imaginary += more.imaginary;
        return *this;
    }
    FourComplex& operator-=(const FourComplex& less) {
        real -= less.real;
        imaginary -= less.imaginary;
        return *this;
    }
};

/// Adds the square of each one's absolute value.
inline void add_norm(const FourComplex& a, FourDoubles& sum) {
    sum += a.real * a.real + a.imaginary * a.imaginary;
}
inline FourComplex product(std::complex<double> a, const FourComplex& b) {
    return {a.real() * b.real - a.imag() * b.imaginary, a.real() * b.imaginary + a.imag() * b.real};
}
/// conj(a) times b.
inline FourComplex turned_back(const FourComplex& a, const FourComplex& b) {
    return {a.real * b.real + a.imaginary * b.imaginary, a.real * b.imaginary - a.imaginary * b.real};
}
inline double total(const FourDoubles& four) { return (four[0] + four[1]) + (four[2] + four[3]); }
inline std::complex<double> total(const FourComplex& four) {
    return {total(four.real), total(four.imaginary)};
}

/// A row of them, of so many numbers at most.
class ComplexFours {
public:
    explicit ComplexFours(std::size_t most) : real_(most / 4 * 4 + 4), imaginary_(real_.size()) {}

    [[nodiscard]] std::complex<double> at(std::size_t i) const { return {real_[i], imaginary_[i]}; }
    void set(std::size_t i, std::complex<double> value) {
        real_[i] = value.real();
        imaginary_[i] = value.imag();
    }
    /// Number i and the three behind it.
    [[nodiscard]] FourComplex four_at(std::size_t i) const {
        FourComplex four;
        load(four.real, &real_[i]);
        load(four.imaginary, &imaginary_[i]);
        return four;
    }
    void set_four(std::size_t i, const FourComplex& four) {
        store(four.real, &real_[i]);
        store(four.imaginary, &imaginary_[i]);
    }
    /// Nothing stands behind the first so many, as far as the last four of them reach.
    void end_at(std::size_t length) {
        const auto end = static_cast<std::ptrdiff_t>(length);
        const std::size_t beyond = (4 - length % 4) % 4;
        std::fill_n(real_.begin() + end, beyond, 0.0);
        std::fill_n(imaginary_.begin() + end, beyond, 0.0);
    }

    [[nodiscard]] std::span<const double> real() const { return real_; }
    [[nodiscard]] std::span<const double> imaginary() const { return imaginary_; }

private:
    std::vector<double> real_;
    std::vector<double> imaginary_;
};

}  // namespace midspan
