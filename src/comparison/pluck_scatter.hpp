// pluck_scatter.hpp: how much the hand scatters from pluck to pluck.
//
// Room: comparison. Pure. May include: ground, instrument.
#pragma once

#include "comparison/cause_evidence.hpp"
#include "comparison/cause_search.hpp"
#include "comparison/neck_model.hpp"

namespace midspan {

/// Standard deviation of one pluck, cents, before any cause is known: from what all shapes together leave,
/// robustly, by the median of what is left, made larger by what the shapes took. `prior` is what it was taken
/// for before anything was heard; worth two plucks.
[[nodiscard]] double first_scatter(const NeckModel& model, double prior);

/// And once the causes are known.
[[nodiscard]] double scatter_beyond(const CauseSearch& search, const CauseEvidence::Chosen& chosen,
                                    const NeckModel& model, double prior);

}  // namespace midspan
