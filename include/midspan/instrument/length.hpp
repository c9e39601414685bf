// length.hpp: lengths as people write them.
//
// Room: instrument. Pure. May include: ground.
#pragma once

#include <string_view>

#include "midspan/result.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// A length: plain numbers are millimetres ("648", "628.65", "648 mm"); inches are named and may be
/// mixed fractions ("24.75in", "24 3/4 in", "25-1/2in", `25.5"`). Any finite value; the caller checks the
/// range.
[[nodiscard]] Result<Millimetres> parse_length(std::string_view text);

/// From a small ukulele to beyond the longest bass; what lies outside is a slip of the pen.
inline constexpr Millimetres shortest_scale_length{200.0};
inline constexpr Millimetres longest_scale_length{1500.0};

/// A scale length: parse_length, and between 200 and 1,500 mm. A number that makes sense in inches only
/// is asked about: "25.5 mm? write 25.5in".
[[nodiscard]] Result<Millimetres> parse_scale_length(std::string_view text);

}  // namespace midspan
