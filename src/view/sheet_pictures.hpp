// sheet_pictures.hpp: what a visit changed, drawn: the errors of the strings, the bridge from above, and the
// neck.
//
// Room: view. Pure. May include: ground to record.
#pragma once

#include <span>

#include "midspan/view/look.hpp"
#include "view/picture.hpp"
#include "view/sheet_content.hpp"

namespace midspan {

/// Each string as a line along the neck, and on it its error as received (hollow) and after (filled), with
/// bars of two standard uncertainties, against the tolerance. Strings without a comparison say so. An error
/// beyond 20 tolerances is an arrow at the edge, with its number.
[[nodiscard]] Picture error_picture(std::span<const StringOverVisit> strings, Cents tolerance);

/// The bridge from above, nut at the top, as the instrument stands in front of you: string 1 on the right,
/// on the left when left-handed. Each saddle from where it stood (dashed) to where it stands, to the scale of
/// the bar beside it.
[[nodiscard]] Picture bridge_picture(std::span<const StringOverVisit> strings, BridgeKind bridge,
                                     bool left_handed, LengthUnit unit);

/// The neck from above with the errors of a survey: what neck_picture() draws.
[[nodiscard]] Picture neck_map(const NeckAnalysis& analysis);

}  // namespace midspan
