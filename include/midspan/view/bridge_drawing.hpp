// bridge_drawing.hpp: the bridge from above, drawn in characters.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>

#include "midspan/measurement/analysis.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// Each saddle on its travel, to scale: where it is and, when a move is advised, where it should be.
///
/// Nut to the left, tail to the right, string 1 at the bottom. When the travel of every saddle
/// is known, the lanes begin at the ends of travel on the nut's side, as on the bridge; otherwise the
/// saddles stand in line where they are now. A move too small for the scale is drawn one column long, so
/// its direction shows. Empty when no string could be compared. At most 80 columns wide.
[[nodiscard]] std::string bridge_drawing(const Analysis& analysis, const Look& look);

}  // namespace midspan
