// cause_priors.hpp: how large faults are, and how rare, before anything was heard.
//
// Room: comparison. Pure. May include: nothing.
#pragma once

#include "midspan/comparison/neck_survey.hpp"

namespace midspan {

/// Of one cause.
struct CausePrior {
    double size;     ///< standard deviation: mm; of a fret or a string cents
    double against;  ///< logarithm of the odds against it
};

/// Common practice, no source: a saddle that stands wrong is the usual fault, a bad string a rare one. A nut
/// that is wrong under one string alone is rare too, unless there is only one string to go by.
///
/// So chosen that of 100 necks without a fault 95 and more are left without one, plucked once or three times
/// a note, with 0.3 to 1.5 cents of scatter: a cause then has to stand out by 3.1 (a saddle) to 4.1 (one fret
/// under one string, of which there are many) standard deviations.
[[nodiscard]] CausePrior prior_of(const NamedCause& cause, bool several_strings);

/// One pluck pulled aside.
[[nodiscard]] CausePrior prior_of_bent_pluck();

/// What the stated scatter of the hand is worth, in plucks.
inline constexpr double plucks_of_prior_scatter = 2.0;

/// All saddles off is one thing that happens, not as many as there are strings.
inline constexpr double odds_against_all_saddles = 3.0;

}  // namespace midspan
