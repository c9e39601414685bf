// unit_circle.cpp: points on the unit circle, by series that all four to a register follow together.
//
// Room: ground. Pure. May include: nothing.
#include "ground/unit_circle.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cstddef>
#include <numbers>

#include "ground/widest_registers.hpp"

namespace midspan {
namespace {

// Adding and taking away so much leaves a whole number: nothing smaller has room behind the point.
constexpr double rounding = 6755399441055744.0;  // 1.5 * 2^52

// Taylor's series of sin(x) / x and cos(x) in x^2, far enough for |x| <= pi / 2.
constexpr std::size_t terms = 10;
constexpr std::array<double, terms> series_of(double first) {
    std::array<double, terms> series{};
    double term = 1.0;
    for (std::size_t i = 0; i < terms; ++i) {
        series[i] = term;
        const double next = 2.0 * static_cast<double>(i) + first;
        term /= -(next + 1.0) * (next + 2.0);
    }
    return series;
}
constexpr std::array<double, terms> sine_series = series_of(1.0);
constexpr std::array<double, terms> cosine_series = series_of(0.0);

// Half the angle, and then its double: so far the series are short.
void four_points(const double* turns, double* cosines, double* sines) {
    FourDoubles turn;
    load(turn, turns);
    const FourDoubles half = std::numbers::pi * (turn - ((turn + rounding) - rounding));
    const FourDoubles square = half * half;
    FourDoubles sine = FourDoubles{} + sine_series[terms - 1];
    FourDoubles cosine = FourDoubles{} + cosine_series[terms - 1];
    for (std::size_t i = terms - 1; i-- > 0;) {
        sine = sine * square + sine_series[i];
        cosine = cosine * square + cosine_series[i];
    }
    sine *= half;
    store(1.0 - 2.0 * sine * sine, cosines);
    store(2.0 * sine * cosine, sines);
}

}  // namespace

void on_unit_circle(std::span<const double> turns, std::span<double> cosines, std::span<double> sines) {
    assert(turns.size() == cosines.size() && turns.size() == sines.size());
    const std::size_t whole = turns.size() / 4 * 4;
    in_widest_registers([&] {
        for (std::size_t i = 0; i < whole; i += 4)
            four_points(&turns[i], &cosines[i], &sines[i]);
    });
    const std::size_t left = turns.size() - whole;
    std::array<double, 4> last_turns{}, last_cosines, last_sines;
    std::copy_n(turns.data() + whole, left, last_turns.begin());
    four_points(last_turns.data(), last_cosines.data(), last_sines.data());
    std::copy_n(last_cosines.begin(), left, cosines.data() + whole);
    std::copy_n(last_sines.begin(), left, sines.data() + whole);
}

}  // namespace midspan
