// sheet_words.hpp: a visit in plain sentences.
//
// Room: view. Pure. May include: ground to record.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "midspan/view/look.hpp"
#include "view/sheet_content.hpp"

namespace midspan {

/// "string 3 (G3)".
[[nodiscard]] std::string name_in_words(const StringOverVisit& s);

/// "+6.39 ± 0.20"; a dash when there is none.
[[nodiscard]] std::string error_in_words(const AnalysedString* s);

/// "2.39 mm toward the tail", with the turns when they were counted; a dash when nothing is known.
[[nodiscard]] std::string move_in_words(const StringOverVisit& s, LengthUnit unit);

/// "good", "still sharp", "not certain", "not measured again".
[[nodiscard]] std::string outcome_in_words(const StringOverVisit& s);

/// What changed, for whoever plays the instrument.
[[nodiscard]] std::vector<std::string> in_short(std::span<const StringOverVisit> strings,
                                                std::span<const MeasuredOverVisit> measured, Cents tolerance,
                                                LengthUnit unit);

/// One sentence for each string that was not left good, with the reason.
[[nodiscard]] std::vector<std::string> not_fixed(std::span<const StringOverVisit> strings, BridgeKind bridge,
                                                 Cents tolerance, LengthUnit unit);

}  // namespace midspan
