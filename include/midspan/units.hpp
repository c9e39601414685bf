// units.hpp: quantities that carry their unit in the type.
//
// Room: ground. Pure.
#pragma once

#include <cmath>
#include <compare>

namespace midspan {

/// A number with a unit. Two in the wrong order do not compile, nor does `f + 3.0`; there is no product
/// of two quantities and no implicit conversion.
template <class Unit>
class Quantity {
public:
    constexpr explicit Quantity(double value) : value_{value} {}
    [[nodiscard]] constexpr double value() const { return value_; }

    friend constexpr Quantity operator+(Quantity a, Quantity b) { return Quantity{a.value_ + b.value_}; }
    friend constexpr Quantity operator-(Quantity a, Quantity b) { return Quantity{a.value_ - b.value_}; }
    friend constexpr Quantity operator-(Quantity a) { return Quantity{-a.value_}; }
    friend constexpr Quantity operator*(double k, Quantity a) { return Quantity{k * a.value_}; }
    friend constexpr double operator/(Quantity a, Quantity b) { return a.value_ / b.value_; }
    friend constexpr auto operator<=>(Quantity, Quantity) = default;

private:
    double value_;
};

using Hertz = Quantity<struct HertzUnit>;              ///< where a pitch is
using Cents = Quantity<struct CentsUnit>;              ///< how far apart two pitches are
using Millimetres = Quantity<struct MillimetresUnit>;  ///< every length, whatever the user typed
using Seconds = Quantity<struct SecondsUnit>;          ///< time in a recording, counted in samples
using Turns = Quantity<struct TurnsUnit>;              ///< of a screw
using Decibels = Quantity<struct DecibelsUnit>;        ///< a level; against what is said by the name
using Newtons = Quantity<struct NewtonsUnit>;          ///< tension, and stiffness against stretching
using NewtonSquareMillimetres = Quantity<struct NewtonSquareMillimetresUnit>;  ///< stiffness against bending
using GramsPerMetre = Quantity<struct GramsPerMetreUnit>;                      ///< unit weight of a string

inline constexpr Millimetres millimetres_per_inch{25.4};

/// The magnitude of a quantity.
template <class Unit>
[[nodiscard]] constexpr Quantity<Unit> magnitude(Quantity<Unit> a) {
    return a.value() < 0.0 ? -a : a;
}

/// The interval from one frequency up to another; negative when `to` is lower. Both > 0.
[[nodiscard]] inline Cents interval(Hertz from, Hertz to) { return Cents{1200.0 * std::log2(to / from)}; }

/// The frequency that lies `by` above `f`.
[[nodiscard]] inline Hertz raised(Hertz f, Cents by) { return std::exp2(by.value() / 1200.0) * f; }

namespace literals {
constexpr Hertz operator""_hz(long double v) { return Hertz{static_cast<double>(v)}; }
constexpr Cents operator""_cents(long double v) { return Cents{static_cast<double>(v)}; }
constexpr Millimetres operator""_mm(long double v) { return Millimetres{static_cast<double>(v)}; }
constexpr Seconds operator""_s(long double v) { return Seconds{static_cast<double>(v)}; }
constexpr Turns operator""_turns(long double v) { return Turns{static_cast<double>(v)}; }
constexpr Decibels operator""_db(long double v) { return Decibels{static_cast<double>(v)}; }
}  // namespace literals

}  // namespace midspan
