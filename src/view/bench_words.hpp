// bench_words.hpp: what the bench measured, in the trade's words.
//
// Room: view. Pure. May include: ground to record.
#pragma once

#include <string>
#include <string_view>

#include "midspan/instrument/string_make.hpp"
#include "midspan/record/setup_record.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// "relief", "nut height".
[[nodiscard]] std::string_view in_words(BenchQuantity quantity);

[[nodiscard]] std::string_view in_words(BridgeKind bridge);

/// "held at fret 1 and the last, read at fret 7, feeler gauge"; empty when nothing was said.
[[nodiscard]] std::string in_words(const BenchMethod& method);

/// "0.25 mm": hundredths of a millimetre or thousandths of an inch, as a feeler gauge has them.
[[nodiscard]] std::string bench_length(Millimetres length, LengthUnit unit);

/// "46w/17": thousandths of an inch, w for wound, behind the slash the core.
[[nodiscard]] std::string gauge_in_words(const StringGauge& string);

/// "0.25 mm (0.010 in)", the unit that is asked for first.
[[nodiscard]] std::string bench_length_in_both(Millimetres length, LengthUnit first);

}  // namespace midspan
