// pitch_reading.hpp: what one pluck says about its string.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include "midspan/units.hpp"

namespace midspan {

/// The pitch of one pluck: the frequency of its lowest sounding partial in the settled limit, when the
/// swing has become small and the tension glide is over.
///
/// Partials follow f_k = k f_0 sqrt(1 + B k^2), so the lowest is f_1 = f_0 sqrt(1 + B).
struct PitchReading {
    Hertz frequency{0.0};  ///< f_1, settled
    /// Standard uncertainty of `frequency`, scatter and model error together.
    Cents uncertainty{0.0};
    /// B of this note; a harmonic and a fretted octave both show four times that of the open string.
    double inharmonicity = 0.0;
    double inharmonicity_uncertainty = 0.0;
    Cents glide{0.0};               ///< how far above the settled pitch the usable span began
    Seconds glide_time{0.0};        ///< T in the glide's law exp(-2 t / T)
    int partials = 0;               ///< how many it rests on: one, where they do not keep together
    Seconds span{0.0};              ///< how much of the note was used
    Decibels signal_to_noise{0.0};  ///< partials against the residual of the fit, over the span
    /// Partials at 1/2, 3/2, 5/2 of the frequency against the whole ones, and the same of what stands
    /// between them: odd partials that do not rise above that floor show nothing.
    Decibels odd_partials{0.0};
    Decibels odd_partials_floor{0.0};
    bool not_settled = false;     ///< glide and settled pitch cannot be told apart in so short a note
    bool beating = false;         ///< two planes of vibration beat against each other
    bool string_suspect = false;  ///< the partials do not fit a string
};

}  // namespace midspan
