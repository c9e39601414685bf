// model_choice.hpp: which string a note shows: steady or gliding, one plane or two, by themselves or driving
// each other, on the law or a little off.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <vector>

#include "midspan/units.hpp"
#include "pitch/coupled_fit.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/string_fit.hpp"

namespace midspan {

/// What a fitted string explains of its partials against what it leaves.
[[nodiscard]] Decibels signal_to_noise(const FoundString& string, const PartialTracks& tracks);

/// The simplest model that a note's own evidence supports: a string whose partials follow the law to the
/// last digit, a little off it, as real ends and bridges make them, and either with a second plane of
/// vibration; where something beats, also a string whose planes drive each other. How a string glides the
/// note does not always tell, so that is averaged by the odds.
///
/// Allocates when it is made, never afterwards.
class ModelChoice {
public:
    ModelChoice() { candidates_.reserve(4); }

    /// From where `fit` has arrived with a gliding string in one plane. `since_pluck` is how long ago the
    /// pluck was at t = 0, s.
    void choose(StringFit& fit, const PartialTracks& tracks, double since_pluck);

    /// The likeliest.
    [[nodiscard]] const FoundString& string() const { return best_; }
    /// With a second plane of vibration.
    [[nodiscard]] bool beating() const { return best_free_.second_plane; }
    /// With planes that drive each other; then also beating and loose.
    [[nodiscard]] bool coupled() const { return is_coupled_; }
    /// With partials that stand a little off the law.
    [[nodiscard]] bool loose() const { return best_free_.loose; }

    /// ln f_1 and its variance over all that may be.
    struct Belief {
        double log_lowest = 0.0;
        double variance = 0.0;
    };
    [[nodiscard]] const Belief& belief() const { return belief_; }

    /// How much of what the likeliest leaves over hangs together: 0 for noise, up to 1.
    [[nodiscard]] double structure() const { return structure_; }

    /// What the models that were tried differ by, squared, beyond their own scatter; of ln f_1. The more of
    /// the note one of them leaves over, the less what it says counts: what is left moves the pitch in
    /// proportion. Nothing where the first one left only noise.
    [[nodiscard]] double disagreement() const;

private:
    struct Candidate {
        double log_lowest;
        double deviation;
        double split;  // 0 with one plane
        bool wanders;  // says nothing unless the evidence is for it
        double misfit;
    };

    void propose(StringFit& fit, const PartialTracks& tracks, const FreeParts& free);
    void consider(StringFit& fit, const PartialTracks& tracks, const FreeParts& free);
    void accept(StringFit& fit, const PartialTracks& tracks, const FreeParts& free);
    void consider_coupling(const PartialTracks& tracks, double since_pluck);
    void average_glides(StringFit& fit, const PartialTracks& tracks);
    void doubt_glide(StringFit& fit, const PartialTracks& tracks);
    [[nodiscard]] bool better_by_chance(StringFit& fit, const PartialTracks& tracks,
                                        const FreeParts& free) const;
    [[nodiscard]] bool blown_up(const FoundString& string, const FreeParts& free) const;
    [[nodiscard]] double enough() const;

    FoundString plain_;
    FoundString best_;
    FreeParts best_free_;
    CoupledFit coupled_;
    bool is_coupled_ = false;
    double best_score_ = 0.0;
    double structure_ = 0.0;
    double values_ = 1.0;  // that the last model was held to, as if independent
    Belief belief_;
    std::vector<Candidate> candidates_;
};

}  // namespace midspan
