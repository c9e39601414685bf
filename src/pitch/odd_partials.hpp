// odd_partials.hpp: what a touched harmonic leaves of the open string's odd modes.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <complex>
#include <span>
#include <vector>

#include "ground/real_transform.hpp"
#include "midspan/units.hpp"
#include "pitch/string_law.hpp"

namespace midspan {

/// A finger that touches the middle of a string stops its odd modes nearly, never quite: they stay as weak
/// partials at 1/2, 3/2, 5/2 of the harmonic. A string pressed at the 12th fret has none.
struct OddPartialLevels {
    Decibels odd;    ///< lines at the half places, the strongest left out, against those at the whole ones
    Decibels floor;  ///< the same of the quarter places in between, where no string sounds
};

/// Holds its workspace; allocates when it is made, never afterwards.
class OddPartialFinder {
public:
    OddPartialFinder();

    /// samples  one channel, attack over; the first third of a second is looked at
    /// law      of the note
    [[nodiscard]] OddPartialLevels find(std::span<const float> samples, Hertz sample_rate,
                                        const StringLaw& law);

private:
    static constexpr std::size_t size = 4096;
    RealTransform transform_;
    std::vector<float> window_;
    std::vector<float> samples_;
    std::vector<std::complex<float>> bins_;
};

}  // namespace midspan
