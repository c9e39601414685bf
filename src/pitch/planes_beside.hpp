// planes_beside.hpp: the planes of a partial laid beside its track.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <array>
#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "ground/complex_fours.hpp"
#include "pitch/found_string.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/string_law.hpp"
#include "pitch/time_bases.hpp"

namespace midspan {

/// One or two planes that each die at their own rate and turn by a string's law, one partial after the other.
///
/// What all planes of a partial turn by is taken out of its values, so that little is left to work out for
/// each: what they have in common does not change by that.
///
/// Allocates when it is made, never afterwards.
class PlanesBeside {
public:
    PlanesBeside();

    /// Lays one plane or two of a partial beside its track, each at the amplitude and phase that fit best,
    /// and notes in it how loud they are; returns the sum of the squares left. `bases` are laid out for the
    /// tracks and stand at the law's glide time.
    double lay(const PartialTracks& tracks, const TimeBases& bases, const StringLaw& law,
               FoundPartial& partial, std::size_t planes);

    /// The frequency of the partial that was laid last, Hz, and its glide.
    [[nodiscard]] double frequency() const { return frequency_; }
    [[nodiscard]] double glide() const { return glide_; }

    /// Sums over time, each times bases of time in pairs: of |a|^2 and |b|^2 of the planes a and b, of the
    /// real and the imaginary part of conj(a) b; and times single bases: of what is left along either plane
    /// and across it.
    struct InCommon {
        TimeBases::Sums first{}, second{}, even{}, odd{};
        std::array<TimeBases::AtOnce, 2> along{}, across{};
    };
    [[nodiscard]] InCommon in_common(const TimeBases& bases);

    /// What was left of the track's values; until the next call.
    [[nodiscard]] std::span<const std::complex<double>> left();

    /// How well each of some splits between two planes suits one that dies as the first does: the sum of the
    /// squares left. `splits` are relative.
    void try_splits(const PartialTracks& tracks, const TimeBases& bases, const StringLaw& law,
                    const FoundPartial& partial, std::span<const double> splits, std::span<double> squares);

private:
    void turn_back(const PartialTracks& tracks, const TimeBases& bases, const StringLaw& law,
                   const FoundPartial& partial);
    template <int Planes>
    double lay(const PartialTracks& tracks, const StringLaw& law, FoundPartial& partial);
    template <typename TwoWeights>
    [[nodiscard]] TimeBases::Weights<2> weights(const TwoWeights& of_four);

    std::size_t length_ = 0;
    std::size_t laid_ = 0;
    double frequency_ = 0.0;
    double glide_ = 0.0;
    // One a value: what all planes turn by; and turned back by that, the values, the planes, what is left.
    std::vector<double> turns_;
    std::vector<double> cosines_;
    std::vector<double> sines_;
    ComplexFours values_;
    std::array<ComplexFours, 2> planes_;
    ComplexFours rest_;
    ComplexFours weights_;
    std::vector<std::complex<double>> left_;
};

}  // namespace midspan
