// neck_drawing.hpp: a survey as a drawing of the neck, and what it found in plain words.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>

#include "midspan/measurement/survey.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// Smaller errors are drawn as none.
inline constexpr Cents drawn_as_error{2.0};

/// The neck in letters: strings as a player says them, the plucked frets from the nut on. Every note has its
/// error in cents with its sign, and a mark that points up where it is sharp and down where it is flat by 2
/// cents or more; colour, where the screen shows it, says the same. A fret or a string that is named as a
/// fault is marked at its edge. At most 80 columns wide; longer necks are broken.
[[nodiscard]] std::string neck_drawing(const NeckAnalysis& analysis, const Look& look);

/// Where each saddle and the nut would leave least, and how much that is.
[[nodiscard]] std::string neck_places(const NeckAnalysis& analysis, const Look& look);

/// What was found, in the order in which it is mended; what could not be separated and which notes would;
/// what these plucks could not have shown.
[[nodiscard]] std::string neck_findings(const NeckAnalysis& analysis, const Look& look);

/// The neck from above as one SVG file: each note's error up or down from its string, the fitted course drawn
/// through them, named frets and strings marked. Black and white tell everything that colour tells.
[[nodiscard]] std::string neck_picture(const NeckAnalysis& analysis);

}  // namespace midspan
