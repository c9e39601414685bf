// neck_by_physics.hpp: a neck made of lengths, stretch and stiffness, with faults put into it and plucked.
//
// Room: tests/support. May include: comparison, instrument.
#pragma once

#include <cstdint>
#include <vector>

#include "midspan/comparison/neck_survey.hpp"

namespace midspan::test {

/// A fault put into a neck. No string: on all of them.
struct InjectedFault {
    NamedCause cause;
    /// saddle         too near to the nut (a positive size sharpens)
    /// nut_position   the edge too far from the bridge; negative: too near
    /// nut_height     its slot above where it was
    /// fret           its contact line toward the saddle: misplaced by it, or flat over twice of it
    /// string         not a length: the root mean square, in cents over frets 1 to 19, of what lumps in the
    ///                string's mass do beyond a saddle and a nut
    double size;
};

/// What the owner of a neck says of its strings before they are plucked.
enum class Stated {
    nothing,
    gauges,              ///< and cores; heights and relief are taken to be the usual ones
    gauges_and_heights,  ///< measured to 0.03 mm at the nut, 0.1 mm at the 12th and 0.03 mm of relief before
                         ///< the faults came
};

/// Where whoever set the neck up put its saddles.
enum class SaddlesSet {
    at_12th,        ///< where the 12th agrees with its harmonic
    for_all_frets,  ///< where the squares of the errors at frets 1 to 19 are least
};

struct NeckTake {
    std::vector<int> frets;  ///< those that are plucked, on every string
    int plucks = 1;          ///< of each note
    Cents scatter{1.0};      ///< of the hand, standard deviation from pluck to pluck
    Stated stated = Stated::gauges_and_heights;
    int bent = 0;  ///< so many single plucks pulled aside: 6 to 15 cents sharp
    SaddlesSet saddles = SaddlesSet::at_12th;
    Cents setter_off{0.0};  ///< standard deviation of what each string's setter missed it by, at the 12th
};

/// What a survey gets to see of a made neck.
struct MadeSurvey {
    std::vector<SurveyedString> strings;
    std::vector<NeckObservation> observations;
    /// With what its strings and heights let one expect, as far as they were stated; material as in tables.
    NeckSurveyOptions options;
    /// What each saddle stands too near to the nut since it was set, string 1 first; faults not counted.
    std::vector<Millimetres> missed_by;
};

/// Frets 1 to 19.
[[nodiscard]] std::vector<int> chromatic_frets();
/// 1, 2, 3, 5, 7, 9, 12, 15, 17, 19.
[[nodiscard]] std::vector<int> sparse_frets();

/// A neck with six strings, electric or acoustic at random, its saddles set, its nut straight and
/// uncompensated; then the faults, then the plucks. What differs from neck to neck, within what
/// a good one shows: heights, relief, elasticity, clamping, where the finger presses, frets within 0.03 mm.
[[nodiscard]] MadeSurvey neck_by_physics(const std::vector<InjectedFault>& faults, const NeckTake& take,
                                         std::uint64_t seed);

}  // namespace midspan::test
