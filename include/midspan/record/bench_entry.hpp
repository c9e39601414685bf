// bench_entry.hpp: what somebody types at the bench, and whether it can be meant.
//
// Room: record. Pure. May include: ground to measurement.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "midspan/record/setup_record.hpp"
#include "midspan/result.hpp"

namespace midspan {

/// The gauges of a set, string 1 first as packets list them, with commas: "10,13,17,26w,36w,46w". A number of
/// 5 and more is thousandths of an inch, ".010" is inches; "0.25mm" and "0.010in" say it. Behind it p is
/// plain, w is wound, and "w/18" wound on a core of 18; without a letter nobody said. "?" is a string nobody
/// knows. 0.1 to 4 mm, and a core thinner than its string; anything else is a Fault::usage.
[[nodiscard]] Result<std::vector<FittedString>> parse_gauges(std::string_view text);

/// "1,last" or "3": the frets a string is held at, 1 to 36, in any order.
struct HeldFrets {
    std::vector<int> frets;  ///< ascending
    bool last = false;
};
[[nodiscard]] Result<HeldFrets> parse_held(std::string_view text);

/// A day as ISO 8601 writes it, one the calendar has: "2026-03-14".
[[nodiscard]] Result<Day> parse_day(std::string_view text);

/// What a careful technician may want to be asked about a length, or nothing when it is usual:
/// "usual is 0.002 to 0.020 in". In the unit it was typed in.
///
/// The ranges are common practice, no source; wide enough for guitars and basses:
///
///     relief         0.05 to 0.5 mm, and 0
///     action         0.5 to 5 mm
///     nut height     0.05 to 1 mm
///     fret height    0.6 to 1.5 mm
///     pickup height  1 to 7 mm
[[nodiscard]] std::optional<std::string> question_about(BenchQuantity quantity, Millimetres value,
                                                        std::string_view as_typed);

}  // namespace midspan
