// tone_remover.hpp: takes steady tones out of partials that have been brought to rest.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "midspan/units.hpp"
#include "pitch/partial_tracks.hpp"

namespace midspan {

/// Holds its workspace; allocates when it is made, never afterwards.
class ToneRemover {
public:
    ToneRemover();

    /// Takes the whole multiples of `mains` that are heard beside a partial out of its track: each that
    /// stands out in `left`, what a string leaves over of the track's first values.
    ///
    /// raw     the track before `tracks` were settled
    ///
    /// A multiple that turns against the partial by less than four times over those values stays: that is
    /// where two planes beat.
    void take_out(const PartialTracks& raw, PartialTracks& tracks, std::size_t track, Hertz mains,
                  std::span<const std::complex<double>> left);

private:
    void lay_out(const PartialTracks& raw, const PartialTracks& tracks, std::size_t track,
                 std::span<const std::complex<double>> settling, double frequency);
    struct Seen {
        std::complex<double> amplitude;
        double power = 0.0;
    };
    [[nodiscard]] Seen seen(std::size_t length) const;

    std::vector<std::complex<double>> tone_;  // of amplitude one, as the settled track has it
    std::vector<std::complex<double>> left_;
};

}  // namespace midspan
