// trial.hpp: plucks whose truth is known, drawn at random from two physics.
//
// Room: tools/benchmark. Pure. May include: ground, tests/support.
#pragma once

#include <cstdint>
#include <vector>

#include "midspan/units.hpp"
#include "support/plucked_string.hpp"

namespace midspan::benchmark {

inline constexpr Hertz trial_rate{48000.0};
inline constexpr Seconds trial_lead{0.4};  ///< noise before the pluck

enum class Physics {
    modes,              ///< a sum of partials, as the estimator believes
    finite_differences  ///< the equation of motion of a stiff string whose tension grows with its swing
};

enum class Hardship {
    ordinary,  ///< 40 to 60 dB, 2 to 4 s, glide on
    mixed      ///< 10 to 60 dB, 0.5 to 4 s, glide of 0 to 20 cents, hum, two planes up to a cent apart
};

/// What both notes of a trial have to bear.
struct Conditions {
    Physics physics;
    Seconds duration;
    Decibels snr;  ///< mean square of the second after the pluck against white noise up to 24 kHz
    Cents glide;   ///< at the pluck; with finite differences about what the tension makes of the swing
    bool beating;
    bool hum;
};

struct TrialNote {
    std::vector<float> samples;  ///< trial_lead of noise, the note, noise again
    Hertz truth;                 ///< the lowest sounding partial in the settled limit
};

/// The same string twice: touched at its middle, and pressed at the 12th fret.
struct TrialPair {
    Conditions conditions;
    TrialNote harmonic;
    TrialNote fretted;
};

/// One of six steel strings, near its standard tuning, at random. The same seed gives the same pair.
[[nodiscard]] TrialPair draw_pair(Physics physics, Hardship hardship, std::uint64_t seed);

/// A fretted note of such a string as plain partials, without a second plane; gliding by 2 to 20 cents, or
/// not at all.
[[nodiscard]] test::PluckedString draw_plain_note(bool gliding, Seconds duration, std::uint64_t seed);

}  // namespace midspan::benchmark
