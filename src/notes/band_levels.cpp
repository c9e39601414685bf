// band_levels.cpp: four band-pass filters side by side.
//
// Room: notes. Pure. May include: ground.
#include "notes/band_levels.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace midspan {
namespace {

constexpr std::array<double, bands + 1> edges_hz{45.0, 250.0, 700.0, 1800.0, 4200.0};

// In silence the filters would grind on denormal numbers for ever.
void come_to_rest(BandValues& state) {
    for (float& value : state) {
        if (std::abs(value) < 1e-15F) value = 0.0F;
    }
}

struct Biquad {
    double b0, b1, b2, a1, a2;
};

// Butterworth, by the bilinear transform with the corner prewarped: K = tan(pi f / rate),
// Q = 1/sqrt(2) (R. Bristow-Johnson's cookbook, from memory).
Biquad second_order(double corner, double rate, bool high_pass) {
    const double K = std::tan(std::numbers::pi * corner / rate);
    const double norm = 1.0 / (1.0 + std::numbers::sqrt2 * K + K * K);
    const double b0 = (high_pass ? 1.0 : K * K) * norm;
    return {b0, high_pass ? -2.0 * b0 : 2.0 * b0, b0, 2.0 * (K * K - 1.0) * norm,
            (1.0 - std::numbers::sqrt2 * K + K * K) * norm};
}

}  // namespace

BandLevels::BandLevels(Hertz sample_rate) {
    const double rate = sample_rate.value();
    const auto set = [](Biquads& all, std::size_t band, const Biquad& one) {
        all.b0[band] = static_cast<float>(one.b0);
        all.c1[band] = static_cast<float>(one.b1 - one.a1 * one.b0);
        all.c2[band] = static_cast<float>(one.b2 - one.a2 * one.b0);
        all.a1[band] = static_cast<float>(one.a1);
        all.a2[band] = static_cast<float>(one.a2);
    };
    for (std::size_t band = 0; band < bands; ++band) {
        set(high_pass_, band, second_order(edges_hz[band], rate, true));
        set(low_pass_, band, second_order(std::min(edges_hz[band + 1], 0.45 * rate), rate, false));
    }
}

BandValues BandLevels::mean_squares(std::span<const float> samples) {
    BandValues sums{};
    Biquads h = high_pass_;
    Biquads l = low_pass_;
    for (const float x : samples) {
        for (std::size_t i = 0; i < bands; ++i) {
            const float y = h.next(i, x);
            const float z = l.next(i, y);
            sums[i] += z * z;
        }
    }
    high_pass_ = h;
    low_pass_ = l;
    come_to_rest(high_pass_.s1);
    come_to_rest(high_pass_.s2);
    come_to_rest(low_pass_.s1);
    come_to_rest(low_pass_.s2);
    for (float& sum : sums)
        sum /= static_cast<float>(samples.size());
    return sums;
}

}  // namespace midspan
