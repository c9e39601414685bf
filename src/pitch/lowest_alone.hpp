// lowest_alone.hpp: the lowest partial by itself, for strings whose partials do not keep together.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include "midspan/units.hpp"
#include "pitch/model_choice.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/string_fit.hpp"

namespace midspan {

/// Of real strings, worn and badly made ones above all, every partial may stand off the law by a cent or two
/// and beat at a pace of its own. What is wrong with the others then bends the pitch, though the lowest
/// partial, which the pitch is the frequency of, rings on undisturbed. So it is heard alone as well, and the
/// less the whole string does it justice, the more it counts. It counts gradually, since the least change of
/// a note must not change its pitch by much.
///
/// Allocates when it is made, never afterwards.
class LowestAlone {
public:
    /// Beside what `whole` found on all of `tracks`; `since_pluck` as it has it.
    void listen(StringFit& fit, const PartialTracks& tracks, const ModelChoice& whole, double since_pluck);

    /// From 0, the whole string is believed, to 1, the lowest partial alone.
    [[nodiscard]] double weight() const { return weight_; }
    /// What it shows; only with a weight.
    [[nodiscard]] const ModelChoice& choice() const { return choice_; }
    /// What that explains of it.
    [[nodiscard]] Decibels explained() const { return explained_; }

private:
    ModelChoice choice_;
    Decibels explained_{0.0};
    double weight_ = 0.0;
};

}  // namespace midspan
