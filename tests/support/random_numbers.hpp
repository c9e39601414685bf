// random_numbers.hpp: random numbers that are the same on every platform.
//
// Room: tests/support. May include: nothing.
#pragma once

#include <cmath>
#include <cstdint>
#include <numbers>
#include <random>

namespace midspan::test {

/// The standard fixes what std::mt19937_64 yields, but not how std::normal_distribution or
/// std::uniform_real_distribution use it: each library has its own way, and a test that passes with one
/// seed here would draw another string there. So both are made by hand.
class RandomNumbers {
public:
    explicit RandomNumbers(std::uint64_t seed) : bits_{seed} {}

    /// Even over [0, 1), from the upper 53 bits.
    double uniform() { return static_cast<double>(bits_() >> 11U) * 0x1.0p-53; }

    /// Even over [lowest, highest).
    double uniform(double lowest, double highest) { return lowest + (highest - lowest) * uniform(); }

    /// Normal with mean 0 and variance 1 (Box and Muller 1958, one of the pair; from memory).
    double normal() {
        const double radius = std::sqrt(-2.0 * std::log(1.0 - uniform()));
        return radius * std::cos(2.0 * std::numbers::pi * uniform());
    }

private:
    std::mt19937_64 bits_;
};

}  // namespace midspan::test
