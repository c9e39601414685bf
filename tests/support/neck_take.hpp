// neck_take.hpp: plucks all along a neck, as sound, with the error of every note known.
//
// Room: tests/support. May include: ground, instrument, comparison.
#pragma once

#include <cstdint>
#include <vector>

#include "midspan/instrument/instrument.hpp"
#include "midspan/units.hpp"

namespace midspan::test {

struct NeckPluck {
    int string;
    int fret;  ///< 0 is the open string
    Cents error{0.0};
    bool harmonic = false;  ///< touched over the 12th fret, whatever `fret` says
};

/// Plucks one note after the other: `ring` of each and 0.15 s of quiet between them. Strings are stiff, the
/// thicker the more; fret n has the open string's f_0 2^(n/12) and B 4^(n/12), raised by its error.
[[nodiscard]] std::vector<float> neck_take(const std::vector<NeckPluck>& plucks, const Instrument& instrument,
                                           Hertz sample_rate, Seconds ring, std::uint64_t seed);

/// Strings 6 and 5, open and at seven frets up to the 12th, without fault but for a fret 5 that is eight
/// cents sharp on both.
[[nodiscard]] std::vector<NeckPluck> plucks_over_a_sharp_fret_5();

}  // namespace midspan::test
