// setup_sheet.hpp: one visit on paper, for the customer and for the next technician.
//
// Room: view. Pure. May include: ground to record.
#pragma once

#include <string>

#include "midspan/record/setup_record.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// A visit as one HTML page that needs nothing else: no script, no font, no picture from elsewhere. It reads
/// on a phone and prints on one or two pages of A4 or Letter, in black and white as well as on the screen.
///
/// It tells what was found and what was left: each string's error before and after, with plus or minus two
/// standard uncertainties against the tolerance; the bridge from above; the measurements, each with its
/// method; what was not fixed and why; and how to repeat it. "As received" is the first word the visit has on
/// a thing, "after" the last. All text of the record is escaped.
///
/// unit  the one lengths are told in first
[[nodiscard]] std::string setup_sheet(const InstrumentEntry& instrument, const Visit& visit, LengthUnit unit);

/// The pictures of the sheet alone, as one SVG file.
[[nodiscard]] std::string setup_pictures(const InstrumentEntry& instrument, const Visit& visit,
                                         LengthUnit unit);

}  // namespace midspan
