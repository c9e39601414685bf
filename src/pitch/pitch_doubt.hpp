// pitch_doubt.hpp: how far a pitch may be off: scatter, and what no model of a string knows.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include "pitch/model_choice.hpp"
#include "pitch/partial_tracks.hpp"

namespace midspan {

/// The variance of ln f_1, as all partials of `string` show it: the scatter, widened by what the note and the
/// models show of their own limits.
///
/// What is left over hangs together: the model is not the whole truth. The scatter then counts for less than
/// it seems, since neighbours repeat each other, and what the models that were tried differ by beyond their
/// own scatter is a doubt of its own.
///
/// And no string follows the law to the last digit: a small part of the glide, a small part of a turn over
/// the note and a hundredth of a cent are never known, and more of them where the note is seen to leave the
/// law, or is too short or too noisy to show it. How much, and how heavily repeating neighbours weigh, was
/// set by simulation, so that two different physics both have the truth within two standard uncertainties as
/// often as they should.
[[nodiscard]] double doubt_of_string(const ModelChoice& string, const PartialTracks& tracks);

/// The same as its lowest partial shows it alone, where `whole` is what all of them show: there is nothing
/// beside it that would betray a second plane.
[[nodiscard]] double doubt_of_lowest(const ModelChoice& lowest, const ModelChoice& whole,
                                     const PartialTracks& tracks);

}  // namespace midspan
