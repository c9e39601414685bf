// band_levels.hpp: how much sound there is in four bands, frame by frame.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <array>
#include <cstddef>
#include <span>

#include "midspan/units.hpp"

namespace midspan {

/// 45-250, 250-700, 700-1800 and 1800-4200 Hz: the body of low notes, of high notes, their overtones, and
/// the pick.
inline constexpr std::size_t bands = 4;
using BandValues = std::array<float, bands>;

/// A bank of band-pass filters: second-order Butterworth high- and low-pass, one pair a band.
class BandLevels {
public:
    explicit BandLevels(Hertz sample_rate);

    /// The mean square of the next samples in each band.
    BandValues mean_squares(std::span<const float> samples);

private:
    // y_n = b0 x_n + s1, s1 = b1 x_n - a1 y_n + s2, s2 = b2 x_n - a2 y_n (transposed direct form II), all
    // bands side by side. With y_n written out, c1 = b1 - a1 b0 and c2 = b2 - a2 b0, a sample waits for the
    // one before it as shortly as it can.
    struct Biquads {
        BandValues b0{}, c1{}, c2{}, a1{}, a2{};
        BandValues s1{}, s2{};

        float next(std::size_t band, float x) {
            const float state = s1[band];
            s1[band] = (c1[band] * x + s2[band]) - a1[band] * state;
            s2[band] = c2[band] * x - a2[band] * state;
            return b0[band] * x + state;
        }
    };
    Biquads high_pass_;
    Biquads low_pass_;
};

}  // namespace midspan
