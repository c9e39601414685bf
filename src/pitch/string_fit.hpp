// string_fit.hpp: the joint least-squares fit of a plucked string to its partials.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <Eigen/Core>
#include <array>
#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "pitch/partial_tracks.hpp"
#include "pitch/string_law.hpp"

namespace midspan {

/// One plane of vibration of one partial: exp(log_amplitude - decay t + i phase).
struct DecayingPlane {
    double log_amplitude = 0.0;
    double phase = 0.0;
    double decay = 0.0;  ///< 1/s
};

struct FittedPartial {
    std::size_t track = 0;  ///< index into the tracks
    std::array<DecayingPlane, 2> planes;
    double offset = 0.0;     ///< ln f_k above the law, where the law is loose
    double own_glide = 0.0;  ///< glide above the common one, where the law is loose
    double variance = 1.0;   ///< of one complex value about the model
};

/// Which parts of the law are free.
struct FreeParts {
    bool glide = false;
    bool second_plane = false;
    /// Every partial but the lowest may stand a little off the law, and the tension that higher partials
    /// add, which dies as they do, glides the pitch too.
    bool loose = false;
};

/// What is believed before looking, as mean and standard deviation: it keeps what a note cannot tell
/// from running away, and hardly touches what it can.
struct Beliefs {
    double inharmonicity = 2e-4;  ///< a steel guitar string at its octave
    double inharmonicity_deviation = 2e-3;
    double glide_deviation = 0.0058;  ///< 10 cents
    double log_glide_time = 0.0;
    double log_glide_time_deviation = 0.35;
    double split_deviation = 0.0012;   ///< 2 cents
    double offset_deviation = 0.0006;  ///< 1 cent: ends, bridge and body move partials by that much
    double own_glide_deviation =
        0.4;  ///< of the common glide: a mode's own swing stretches it half as much again
};

/// Gauss-Newton with analytic derivatives over amplitude, phase and decay of every partial and the law
/// they share. The former are eliminated partial by partial, so that a step is one pass over the data.
class StringFit {
public:
    StringFit();

    /// Starts from the tracks' own guess of the law, over their first `length` values, with the partials
    /// numbered up to `highest` that fit a string.
    void begin(const PartialTracks& tracks, std::size_t length, int highest);

    /// Takes in the partials up to `highest`, each at the amplitude and phase that suit the law so far.
    void widen(const PartialTracks& tracks, std::size_t length, int highest);

    /// The tracks have been settled: the law stays, the phases start anew.
    void restart(const PartialTracks& tracks, const StringLaw& law, int highest);

    /// Fits the first `length` values of each track from the last state, at most `iterations` steps.
    void run(const PartialTracks& tracks, std::size_t length, const FreeParts& free, int iterations);

    /// Gives every partial a second plane at this relative split, with the amplitudes and phases of both
    /// that fit best. Returns minus twice the logarithm of the likelihood, to compare splits by.
    double split_planes(const PartialTracks& tracks, std::size_t length, double split);

    /// Names the stronger plane the first.
    void order_planes();

    [[nodiscard]] const StringLaw& law() const { return law_; }
    [[nodiscard]] std::span<const FittedPartial> partials() const { return partials_; }
    [[nodiscard]] Beliefs& beliefs() { return beliefs_; }

    /// Standard uncertainties of the law at the last state, from the scatter about the model.
    [[nodiscard]] const StringLaw& deviations() const { return deviations_; }

    /// Minus twice the logarithm of the likelihood, up to a constant, at the last state.
    [[nodiscard]] double misfit() const { return misfit_; }

    /// What the model says about value `m` of a fitted partial.
    [[nodiscard]] std::complex<double> model(const PartialTracks& tracks, const FittedPartial& partial,
                                             std::size_t m, bool second_plane) const;

    /// How much what is left over still hangs together over time: 0 for noise, up to 1.
    [[nodiscard]] double structure_left(const PartialTracks& tracks, bool second_plane) const;

private:
    static constexpr int shared = 6;         // unknowns of the law
    static constexpr int most = 8 + shared;  // and of a partial: three a plane, offset, own glide
    using Normal = Eigen::Matrix<double, most, most>;
    using Right = Eigen::Matrix<double, most, 1>;
    using SharedMatrix = Eigen::Matrix<double, shared, shared>;
    using SharedVector = Eigen::Matrix<double, shared, 1>;
    struct State {
        std::vector<FittedPartial> partials;
        StringLaw law;
    };

    template <int Planes>
    double assemble(const PartialTracks& tracks, std::size_t length, const FreeParts& free);
    template <int Planes>
    double change(const FreeParts& free, double damping);
    void weigh(const PartialTracks& tracks, std::size_t length, const FreeParts& free);
    void prepare_fast_glide(const PartialTracks& tracks, std::size_t length);
    void take_in(const PartialTracks& tracks, std::size_t length, std::size_t track, double variance);

    std::vector<FittedPartial> partials_;
    StringLaw law_;
    std::vector<FittedPartial> partials_before_;
    StringLaw law_before_;
    std::vector<Normal> normal_;  // one a partial: unknowns of its planes first, then the law's
    std::vector<Right> right_;
    std::vector<double> fast_ahead_;  // seconds ahead per unit of fast glide, one a value
    SharedMatrix believed_;
    SharedVector believed_right_;
    StringLaw deviations_;
    Beliefs beliefs_;
    double misfit_ = 0.0;
    double glide_size_ = 1e-5;  // of the common glide when the run began: what own glides are measured by
};

}  // namespace midspan
