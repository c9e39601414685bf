// found_string.hpp: a plucked string as a fit finds it.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <array>
#include <cstddef>
#include <vector>

#include "pitch/partial_tracks.hpp"
#include "pitch/string_law.hpp"

namespace midspan {

/// One plane of vibration of one partial: |value| = exp(log_amplitude - decay t).
struct DecayingPlane {
    double log_amplitude = 0.0;
    double decay = 0.0;  ///< 1/s
};

struct FoundPartial {
    std::size_t track = 0;   ///< index into the tracks
    std::size_t length = 0;  ///< values that are looked at: the rest of it has died away
    std::array<DecayingPlane, 2> planes;
    double offset = 0.0;     ///< ln f_k above the law, where the law is loose
    double own_glide = 0.0;  ///< glide above the common one, where the law is loose
    double variance = 1.0;   ///< of one complex value about the model
    double misfit = 0.0;     ///< its share of the string's
};

/// What a fit has arrived at. Room for every partial from the start.
struct FoundString {
    FoundString() { partials.reserve(PartialTracks::most_partials); }

    std::vector<FoundPartial> partials;
    StringLaw law;
    StringLaw deviations;  ///< standard uncertainties of the law, from the scatter about the model
    double misfit = 0.0;   ///< minus twice the logarithm of the likelihood, up to a constant
};

}  // namespace midspan
