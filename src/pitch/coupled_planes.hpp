// coupled_planes.hpp: how two planes of one partial drive each other.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <array>
#include <complex>
#include <cstddef>
#include <span>

namespace midspan {

/// One partial of a string that was plucked in one direction, between two planes in which its frequency is
/// not the same. Its own swing stretches the string twice a period and so turns the motion of the one plane
/// into that of the other. As slowly varying amplitudes, t from the pluck:
///
///     A' = -d A         + i s (A^2 + B^2) A*,      A(0) = cos(angle)
///     B' = (-e + i D) B + i s (A^2 + B^2) B*,      B(0) = sin(angle) exp(i phase)
///
/// From the equation of Kirchhoff and Carrier, averaged over a period; own derivation. What the string is
/// stretched by on average is left out: it turns all planes alike.
struct CoupledPlanes {
    double first_decay = 0.0;   ///< d, 1/s
    double second_decay = 0.0;  ///< e, 1/s
    double drift = 0.0;         ///< D, rad/s: of the second plane against the first
    double self = 0.0;          ///< s, rad/s: what the partial's own swing adds at the pluck
    double angle = 0.0;         ///< of the pluck against the first plane, rad
    double phase = 0.0;         ///< rad

    /// How fast the two turn against each other at most, rad/s.
    [[nodiscard]] double pace() const;
};

/// As many strings swing side by side as a few wide registers hold.
inline constexpr std::size_t swung_at_once = 8;

/// A and B of each at one time.
struct SwungPlanes {
    using Lanes = std::array<double, swung_at_once>;
    Lanes first_real, first_imaginary, second_real, second_imaginary;

    [[nodiscard]] std::complex<double> first(std::size_t i) const {
        return {first_real[i], first_imaginary[i]};
    }
    [[nodiscard]] std::complex<double> second(std::size_t i) const {
        return {second_real[i], second_imaginary[i]};
    }
};

/// Fills `swung` with A and B of each at `start`, `start + hop` and so on, s after the pluck. The steps on
/// the way are those for planes of the given pace: as long as it stays the same the values change smoothly
/// with all else. Right to 2e-3 of the amplitude at the pluck.
void swing(std::span<const CoupledPlanes, swung_at_once> planes, double start, double hop, double pace,
           std::span<SwungPlanes> swung);

}  // namespace midspan
