// given_pluck.hpp: a pluck as the notes room hands it over, with known limits.
//
// Room: tests/pitch. May include: ground, notes, support.
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <vector>

#include "midspan/notes/pluck.hpp"
#include "support/plucked_string.hpp"

namespace midspan::test {

/// Sound at 12 kHz that begins 0.2 s before the attack, and the pluck in it.
class GivenPluck {
public:
    static constexpr Hertz sample_rate{12000.0};
    static constexpr Seconds lead{0.2};

    /// Usable from 45 ms after the attack for as long as the string rings.
    explicit GivenPluck(const PluckedString& string) : duration_{string.duration} {
        sound.resize(samples(lead + string.duration + Seconds{0.1}));
        add_pluck(sound, sample_rate, lead, string);
    }
    /// The same of a sound that begins with the attack.
    explicit GivenPluck(std::span<const double> ringing)
        : sound(samples(lead) + ringing.size() + samples(Seconds{0.1})),
          duration_{Seconds{static_cast<double>(ringing.size()) / sample_rate.value()}} {
        std::copy(ringing.begin(), ringing.end(), sound.begin() + static_cast<std::ptrdiff_t>(samples(lead)));
    }

    /// What the estimator sees of `sound` as it stands now, `until` that long after the attack.
    [[nodiscard]] Pluck pluck(Seconds until) {
        samples_ = floats(sound);
        return {lead,
                sample_rate,
                samples_,
                samples(lead),
                samples(lead + Seconds{0.045}),
                samples(lead + until),
                Decibels{-10.0},
                Decibels{-80.0},
                {}};
    }
    [[nodiscard]] Pluck pluck() { return pluck(duration_); }

    std::vector<double> sound;  ///< to add noise, hum and the like to

private:
    static std::size_t samples(Seconds s) {
        return static_cast<std::size_t>(s.value() * sample_rate.value());
    }
    Seconds duration_;
    std::vector<float> samples_;
};

}  // namespace midspan::test
