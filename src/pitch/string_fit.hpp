// string_fit.hpp: the joint least-squares fit of a plucked string to its partials.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <array>
#include <complex>
#include <cstddef>
#include <span>
#include <vector>

#include "ground/normal_equations.hpp"
#include "pitch/found_string.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/planes_beside.hpp"
#include "pitch/string_law.hpp"
#include "pitch/time_bases.hpp"

namespace midspan {

/// Which parts of the law are free.
struct FreeParts {
    bool glide = false;
    bool self_stretch = false;  ///< only together with the glide, and not with a loose law
    bool second_plane = false;
    /// The tension that higher partials add, which dies as they do, glides the pitch too.
    bool fast_glide = false;
    /// The rest of the glide dies as partial 1 does, not just about so.
    bool as_partial_1 = false;
    /// Every partial but the lowest may stand a little off the law.
    bool loose = false;
};

/// One plane that glides: what every fit begins with.
inline constexpr FreeParts gliding{.glide = true, .self_stretch = true};

/// What a run may leave on the table of the weighted sum of squares, on the way and at its end.
inline constexpr double roughly = 0.5;
inline constexpr double closely = 0.01;

/// What is believed before looking, as mean and standard deviation: it keeps what a note cannot tell
/// from running away, and hardly touches what it can.
struct Beliefs {
    double inharmonicity = 2e-4;  ///< a steel guitar string at its octave
    double inharmonicity_deviation = 2e-3;
    double glide_deviation = 0.0058;  ///< 10 cents
    double self_stretch = 0.15;       ///< between a third, for a string that swings in one plane, and none
    double self_stretch_deviation = 0.2;
    double log_glide_time = 0.0;
    double log_glide_time_deviation = 0.35;
    double log_glide_time_deviation_as_partial_1 = 0.02;  ///< how well its decay is known
    double fast_glide_deviation = 1.5;  ///< of the other glide, from how strings are plucked
    double split_deviation = 0.0012;    ///< 2 cents
    double offset_deviation = 0.0006;   ///< 1 cent: ends, bridge and body move partials by that much
    double own_glide_deviation =
        0.4;  ///< of the common glide: a mode's own swing stretches it half as much again
};

/// Gauss-Newton with analytic derivatives over amplitude, phase and decay of every partial and the law
/// they share. The former are eliminated partial by partial, so that a step is one pass over the data, and
/// amplitudes and phases are solved for at every law that is tried (variable projection: G. H. Golub and
/// V. Pereyra 1973, from memory).
///
/// Allocates when it is made, never afterwards.
class StringFit {
public:
    static constexpr std::size_t fewest_values = 5;  ///< of a track that is looked at

    /// Starts from the tracks' own guess of the law, over their first `length` values, with the partials
    /// numbered up to `highest` that fit a string.
    void begin(const PartialTracks& tracks, std::size_t length, int highest);

    /// Takes in the partials up to `highest`.
    void widen(const PartialTracks& tracks, std::size_t length, int highest);

    /// The same with a law that is known: when tracks have been settled, their phases start anew.
    void restart(const PartialTracks& tracks, const StringLaw& law, int highest, std::size_t length);

    /// Fits the first `length` values of each track from the last state, at most `iterations` steps or
    /// until the weighted sum of squares falls by less than `enough`: 0.01 is a tenth of a standard
    /// deviation.
    void run(const PartialTracks& tracks, std::size_t length, const FreeParts& free, int iterations,
             double enough);

    /// Gives every partial a second plane that dies as its first does, at the relative split that suits them
    /// all best.
    void split_planes(const PartialTracks& tracks);

    /// Names the plane of which more is heard the first.
    void order_planes(const PartialTracks& tracks);

    /// What is believed before looking.
    [[nodiscard]] const Beliefs& beliefs() const { return beliefs_; }
    /// Of B, until the next begin(): where too few partials are left to tell it.
    void believe_inharmonicity(double mean, double deviation) {
        beliefs_.inharmonicity = mean;
        beliefs_.inharmonicity_deviation = deviation;
    }
    /// Of the glide that the higher partials drive, as the last run believed it, relative.
    [[nodiscard]] double fast_glide_deviation() const { return beliefs_.fast_glide_deviation * glide_size_; }

    /// Where the last run has arrived.
    [[nodiscard]] const FoundString& string() const { return string_; }
    /// Goes on from there.
    void resume(const FoundString& string) { string_ = string; }

    /// Moves the law to where it is most likely, to first order about the last run's end, if a part of it is
    /// nothing after all: from there a run without that part has hardly a step to make.
    void let_go(double StringLaw::*part);

    /// What the last run left over of a partial; to be read before the fit is used again.
    [[nodiscard]] std::span<const std::complex<double>> left_over(const PartialTracks& tracks,
                                                                  std::size_t partial, bool second_plane);

    /// How much what the last run left over still hangs together over time: 0 for noise, up to 1.
    [[nodiscard]] double structure_left(const PartialTracks& tracks, bool second_plane);

private:
    static constexpr std::size_t shared = 7;    // unknowns of the law
    static constexpr std::size_t most_own = 8;  // and of a partial: three a plane, offset, own glide
    static constexpr std::size_t most = most_own + shared;
    // A partial's own unknowns come first, then those of the law.
    using OfPartial = NormalEquations<most>;
    using OfLaw = NormalEquations<shared>;

    double assembled(const PartialTracks& tracks, const FreeParts& free);
    double believe(const FreeParts& free);
    template <int Planes>
    double assemble(const PartialTracks& tracks, const FreeParts& free);
    struct Step {
        std::array<double, shared> law{};
        std::array<std::array<double, most>, PartialTracks::most_partials> partials{};
        double fall = 0.0;  ///< of the cost, as expected
    };
    [[nodiscard]] Step step(const FreeParts& free, double damping);
    [[nodiscard]] double too_long(const Step& step, const FreeParts& free) const;
    void take(const Step& step, const FreeParts& free, double scale);
    [[nodiscard]] double log_time_of_dying() const;
    void move_glide(double log_lowest_change, double glide_change, double log_time_change);
    void state_deviations(const FreeParts& free, double overlap);
    void weigh(const PartialTracks& tracks, const FreeParts& free);
    void give_own_glides(const PartialTracks& tracks);
    void lay_out(const PartialTracks& tracks, std::size_t length);
    void take_in(const PartialTracks& tracks, std::size_t track, double variance);

    FoundString string_;
    FoundString before_;
    TimeBases bases_;
    PlanesBeside beside_;  // of the partial in hand
    // At one state: the normal equations and the sum of squares that each partial leaves.
    struct Equations {
        std::vector<OfPartial> partials = std::vector<OfPartial>(PartialTracks::most_partials);
        std::vector<double> squares = std::vector<double>(PartialTracks::most_partials);
        OfLaw believed;
    };
    Equations equations_;
    Equations equations_before_;
    std::vector<OfPartial> followed_ = std::vector<OfPartial>(PartialTracks::most_partials);
    Beliefs beliefs_;
    std::array<std::array<double, shared>, shared> covariance_{};  // of the law, as the last run left it
    double damping_ = 0.0;      // what the last run of as many planes needed
    double glide_size_ = 1e-5;  // of the common glide when the run began: what own glides are measured by
};

}  // namespace midspan
