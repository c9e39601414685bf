// coupled_fit.hpp: the fit of a string whose two planes of vibration drive each other.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <array>
#include <cstddef>

#include "ground/normal_equations.hpp"
#include "pitch/coupled_model.hpp"
#include "pitch/coupled_string.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/string_fit.hpp"
#include "pitch/string_law.hpp"

namespace midspan {

/// Levenberg and Marquardt's descent from several starts over a string's motion, amplitudes and phases solved
/// for on the way (variable projection).
///
/// Where glide and split are about as large, planes lock and let go, and no sum of two dying tones says where
/// they settle; this does. It is several times the work of a StringFit.
///
/// Allocates when it is made, never afterwards.
class CoupledFit {
public:
    /// Looks for the string from where a fit in one plane has arrived. `rival` is another model of the same
    /// partials; `since_pluck` is how long ago the pluck was at t = 0, s. False where nothing comes near the
    /// rival, where the lowest partial is not the first, or where there is no other.
    bool find(const FoundString& plain, const FoundString& rival, const PartialTracks& tracks,
              double since_pluck);

    [[nodiscard]] const CoupledString& string() const { return string_; }

    /// How much of what is left over hangs together, as StringFit says it.
    [[nodiscard]] double structure_left() const { return structure_; }

    /// All that partial 1 glides by at t = 0, relative.
    [[nodiscard]] double glide() const { return model_.glide(string_); }

private:
    static constexpr std::size_t own = 8;     // unknowns of a partial: two a plane, two decays, offset, self
    static constexpr std::size_t shared = 9;  // and of the string; with the decays of partial 1
    static constexpr std::size_t most = own + shared;
    // A partial's own unknowns come first, then those of the string.
    using OfPartial = NormalEquations<most>;
    using OfString = NormalEquations<shared>;
    static constexpr std::size_t most_partials = CoupledString::most_partials;

    static constexpr std::size_t starts = 4;
    struct Step {
        std::array<double, shared> string{};
        std::array<std::array<double, most>, most_partials> partials{};
        double fall = 0.0;  ///< of the cost, as expected
    };

    void start(const FoundString& plain, const PartialTracks& tracks, double relative_split,
               double pluck_angle);
    void take_in(const FoundString& plain, const PartialTracks& tracks, std::size_t count);
    bool search(const FoundString& plain, const FoundString& rival, const PartialTracks& tracks);
    [[nodiscard]] Decibels behind(const CoupledString& string, const FoundString& rival,
                                  const PartialTracks& tracks) const;
    void improve(const PartialTracks& tracks, int iterations, double enough);
    void state_misfit(double overlap);
    void name_planes();
    void state_deviation(double overlap);
    void state_structure(const PartialTracks& tracks);

    double assembled(const PartialTracks& tracks);
    double believe();
    [[nodiscard]] double alike_of(const CoupledPartial& partial) const;
    void compare(const PartialTracks& tracks, CoupledPartial& partial);
    double assemble(const PartialTracks& tracks, std::size_t index);
    double believe_of(std::size_t index);
    [[nodiscard]] Step step(double damping);
    void take(const Step& step);

    CoupledString string_;
    CoupledString before_;
    std::array<CoupledString, starts> candidates_{};
    double since_pluck_ = 0.0;
    double held_ = 1.0;  // beliefs' deviations against what they are in the end
    double structure_ = 0.0;

    CoupledModel model_;
    // The normal equations at one state.
    struct Equations {
        std::array<OfPartial, most_partials> partials;
        OfString believed;
    };
    Equations equations_;
    Equations equations_before_;
    std::array<OfPartial, most_partials> followed_;
};

}  // namespace midspan
