// coupled_planes_test.cpp: two planes of one partial, against what is known of them exactly and against their
// equations solved step by step.
#include "pitch/coupled_planes.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <utility>

namespace midspan::test {
namespace {

using Complex = std::complex<double>;

constexpr double start = 0.07;
constexpr double hop = 0.05;
constexpr std::size_t length = 40;

/// One string after another, as many as swing side by side.
std::array<SwungPlanes, length> swung(const std::array<CoupledPlanes, swung_at_once>& planes) {
    std::array<SwungPlanes, length> result;
    double pace = 0.0;
    for (const CoupledPlanes& string : planes)
        pace = std::max(pace, string.pace());
    swing(planes, start, hop, pace, result);
    return result;
}

std::array<SwungPlanes, length> swung(const CoupledPlanes& planes) {
    std::array<CoupledPlanes, swung_at_once> same;
    same.fill(planes);
    return swung(same);
}

double time(std::size_t m) { return start + hop * static_cast<double>(m); }

/// The equations as they stand, by Runge and Kutta's fourth order, 2000 steps a second.
std::pair<Complex, Complex> solved(const CoupledPlanes& planes, double until) {
    const Complex i{0.0, 1.0};
    const auto slope = [&](Complex a, Complex b) {
        const Complex driving = i * planes.self * (a * a + b * b);
        return std::pair{-planes.first_decay * a + driving * std::conj(a),
                         (i * planes.drift - planes.second_decay) * b + driving * std::conj(b)};
    };
    Complex a = std::cos(planes.angle);
    Complex b = std::polar(std::sin(planes.angle), planes.phase);
    const int steps = static_cast<int>(2000.0 * until) + 1;
    const double dt = until / steps;
    for (int n = 0; n < steps; ++n) {
        const auto [a1, b1] = slope(a, b);
        const auto [a2, b2] = slope(a + 0.5 * dt * a1, b + 0.5 * dt * b1);
        const auto [a3, b3] = slope(a + 0.5 * dt * a2, b + 0.5 * dt * b2);
        const auto [a4, b4] = slope(a + dt * a3, b + dt * b3);
        a += dt / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + a4);
        b += dt / 6.0 * (b1 + 2.0 * b2 + 2.0 * b3 + b4);
    }
    return {a, b};
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("a string that swings in one plane stays in it and turns by its own swing") {
        const CoupledPlanes planes{.self = 1.5};
        const auto found = swung(planes);
        for (std::size_t m = 0; m < length; ++m) {
            CHECK(std::abs(found[m].first(0) - std::polar(1.0, 1.5 * time(m))) < 1e-6);
            CHECK(std::abs(found[m].second(0)) == 0.0);
        }
    }
    TEST_CASE("a string that goes round is stretched evenly: its planes do not drive each other") {
        const CoupledPlanes planes{
            .self = 3.0, .angle = 0.25 * std::numbers::pi, .phase = 0.5 * std::numbers::pi};
        const auto found = swung(planes);
        for (std::size_t m = 0; m < length; ++m) {
            CHECK(std::abs(found[m].first(0) - std::sqrt(0.5)) < 1e-9);
            CHECK(std::abs(found[m].second(0) - Complex{0.0, std::sqrt(0.5)}) < 1e-9);
        }
    }
    TEST_CASE("a string that hardly swings has two planes that die and beat, each by itself") {
        const CoupledPlanes planes{.first_decay = 1.1, .second_decay = 1.9, .drift = -2.5, .angle = 0.4};
        const auto found = swung(planes);
        for (std::size_t m = 0; m < length; ++m) {
            const double t = time(m);
            CHECK(std::abs(found[m].first(0) - std::cos(0.4) * std::exp(-1.1 * t)) < 1e-12);
            CHECK(std::abs(found[m].second(0) - std::polar(std::sin(0.4) * std::exp(-1.9 * t), -2.5 * t)) <
                  1e-12);
        }
    }
    TEST_CASE("what the planes give each other is lost by neither: without losses the energy stays") {
        const CoupledPlanes planes{.drift = 1.2, .self = 4.0, .angle = 0.5};
        const auto found = swung(planes);
        double exchanged = 0.0;
        for (std::size_t m = 0; m < length; ++m) {
            const double first = std::norm(found[m].first(0));
            CHECK(std::abs(first + std::norm(found[m].second(0)) - 1.0) < 1e-6);
            exchanged = std::max(exchanged, std::abs(first - std::norm(found[0].first(0))));
        }
        CHECK(exchanged > 0.1);
    }
    TEST_CASE("between planes that are alike the direction of the swing stays what it was") {
        const CoupledPlanes planes{.first_decay = 0.9, .second_decay = 0.9, .self = 3.0, .angle = 0.6};
        const auto found = swung(planes);
        for (std::size_t m = 0; m < length; ++m)
            CHECK(std::abs(found[m].second(0) / found[m].first(0) - std::tan(0.6)) < 1e-9);
    }
}

TEST_SUITE("properties") {
    TEST_CASE("planes side by side swing as their equations say, none like another") {
        std::array<CoupledPlanes, swung_at_once> planes;
        for (std::size_t i = 0; i < swung_at_once; ++i) {
            const auto k = static_cast<double>(i);
            planes[i] = {0.8 + 0.1 * k, 1.0 + 0.2 * k, 3.0 - k, 0.7 * k, 0.1 + 0.15 * k, 0.2 * k - 0.5};
        }
        const auto found = swung(planes);
        for (std::size_t i = 0; i < swung_at_once; ++i) {
            for (std::size_t m = 0; m < length; m += 13) {
                CAPTURE(i);
                CAPTURE(m);
                const auto [first, second] = solved(planes[i], time(m));
                CHECK(std::abs(found[m].first(i) - first) < 2e-3);
                CHECK(std::abs(found[m].second(i) - second) < 2e-3);
            }
        }
    }
}

}  // namespace midspan::test
