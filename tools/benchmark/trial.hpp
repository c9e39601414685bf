// trial.hpp: plucks whose truth is known, drawn at random from two physics.
//
// Room: tools/benchmark. Pure. May include: ground, tests/support.
#pragma once

#include <cstdint>
#include <vector>

#include "midspan/units.hpp"
#include "support/plucked_string.hpp"
#include "support/random_numbers.hpp"

namespace midspan::benchmark {

inline constexpr Hertz trial_rate{48000.0};
inline constexpr Seconds trial_lead{0.4};  ///< noise before the pluck

enum class Physics {
    modes,               ///< a sum of partials, as the estimator believes
    finite_differences,  ///< the equation of motion of a stiff string whose tension grows with its swing
    /// Modes that keep to no law: those above the first stand off it by 0.3 to 3 cents, and where two planes
    /// beat, every partial does so at its own pace, by up to 3 cents; both standard deviations.
    astray
};

enum class Hardship {
    ordinary,  ///< 40 to 60 dB, 2 to 4 s, glide on
    mixed      ///< 10 to 60 dB, 0.5 to 4 s, glide of 0 to 20 cents, hum, two planes up to a cent apart
};

/// What sounds along, beyond what the hard mix has anyway.
enum class Company {
    none,
    pink_noise,    ///< in place of white noise, as strong
    open_strings,  ///< two or three others of the guitar, in tune to 3 cents, each 25 to 50 dB below
    loud_hum       ///< always, its first harmonic 20 to 40 dB below instead of 25 to 60
};

/// What both notes of a trial have to bear.
struct Conditions {
    Physics physics;
    Seconds duration;
    Decibels snr;  ///< mean square of the second after the pluck against white noise up to 24 kHz
    Cents glide;   ///< at the pluck; with finite differences about what the tension makes of the swing
    bool beating;
    bool hum;
    Company company = Company::none;
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

/// One of six steel strings, near its standard tuning, at random. The same seed gives the same pair. Company
/// is kept by strings made of modes only.
[[nodiscard]] TrialPair draw_pair(Physics physics, Hardship hardship, std::uint64_t seed,
                                  Company company = Company::none);

/// How a guitar string is plucked, heard and dies, at random; pitch, stiffness and glide are left as they
/// are.
[[nodiscard]] test::PluckedString draw_manner(Seconds duration, test::RandomNumbers& random);

/// Up to a cent beside the first, half as strong at most, and dying no slower.
[[nodiscard]] test::SecondPlane draw_second_plane(Seconds decay, test::RandomNumbers& random);

/// A fretted note of such a string as plain partials, without a second plane; gliding by 2 to 20 cents, or
/// not at all.
[[nodiscard]] test::PluckedString draw_plain_note(bool gliding, Seconds duration, std::uint64_t seed);

}  // namespace midspan::benchmark
