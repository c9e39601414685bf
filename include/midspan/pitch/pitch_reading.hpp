// pitch_reading.hpp: what one pluck says about its string.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <optional>

#include "midspan/units.hpp"

namespace midspan {

/// The pitch of one pluck: the frequency of its lowest sounding partial in the settled limit, when the
/// swing has become small and the tension glide is over.
///
/// Partials follow f_k = k f_0 sqrt(1 + B k^2), so the lowest is f_1 = f_0 sqrt(1 + B).
struct PitchReading {
    Hertz frequency;    ///< f_1, settled
    Cents uncertainty;  ///< standard uncertainty of `frequency`, fit and model error together
    double
        inharmonicity;  ///< B of this note (a harmonic and a fretted octave both show 4 B of the open string)
    double inharmonicity_uncertainty;
    Cents glide;               ///< how far above the settled pitch the usable span began
    Seconds glide_time;        ///< time constant of that glide
    int partials;              ///< how many were used
    Seconds span;              ///< how much of the note was used
    Decibels signal_to_noise;  ///< partials against the residual of the fit, over the span
    Decibels odd_partials;     ///< partials at 1/2, 3/2, 5/2 ... of the frequency against the whole ones
    Decibels
        odd_partials_floor;  ///< the same of what stands between the partials: odd ones below show nothing
    bool not_settled;        ///< glide and settled pitch cannot be told apart in so short a note
    bool beating;            ///< two planes of vibration beat against each other
    bool string_suspect;     ///< the partials do not fit a string
};

}  // namespace midspan
