// cause_priors.hpp: how large faults are, and how rare, before anything was heard.
//
// Room: comparison. Pure. May include: nothing.
#pragma once

#include "midspan/comparison/neck_survey.hpp"

namespace midspan {

/// Of one cause.
struct CausePrior {
    double size;        ///< standard deviation: mm; of a fret, a string or a pluck cents
    double stands_out;  ///< by so many standard deviations it has to, before it is believed
};

/// How much of a neck was plucked.
struct NeckExtent {
    bool several_strings;
    int frets;
};

/// How rarely a good neck may seem to have each fault is shared out so that each is found where it is worth
/// mending: a saddle and a high fret, where a millimetre does least harm to the test and most to the ear,
/// have to stand out least; a nut's height, a low fret, or a nut under one string alone, which show tenths of
/// a millimetre, most. All together a good neck is left alone 96 times in 100 or more, however it was
/// plucked.
[[nodiscard]] CausePrior prior_of(const NamedCause& cause, const NeckExtent& plucked);

/// One pluck pulled aside.
[[nodiscard]] CausePrior prior_of_bent_pluck();

/// A bad string is rare: logarithm of the odds against it. And by what it is rarer than a saddle or a nut
/// that is off under that string, and one of those at most rarer than another.
inline constexpr double odds_against_uneven_string = 5.0;
inline constexpr double rarer_than_a_place = 2.7;

/// What the stated scatter of the hand is worth, in plucks.
inline constexpr double plucks_of_prior_scatter = 2.0;

/// All saddles off is one thing that happens, not as many as there are strings.
inline constexpr double odds_against_all_saddles = 3.0;

}  // namespace midspan
