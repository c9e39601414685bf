// record_pages.hpp: the setup record as a person reads it on a terminal.
//
// Room: view. Pure. May include: ground to record.
#pragma once

#include <span>
#include <string>

#include "midspan/record/record_lists.hpp"
#include "midspan/record/setup_record.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

// Text of the record is shown on one line each, without its control characters.

[[nodiscard]] std::string instruments_page(std::span<const ListedInstrument> instruments);
[[nodiscard]] std::string deleted_page(std::span<const InstrumentEntry> instruments);
[[nodiscard]] std::string instrument_page(const InstrumentEntry& entry, std::span<const LearnedScrew> screws,
                                          LengthUnit unit);
[[nodiscard]] std::string visits_page(std::span<const ListedVisit> visits);
[[nodiscard]] std::string visit_page(const InstrumentEntry& entry, const Visit& visit, const Look& look);

/// One visit from how it came in to how it was left.
[[nodiscard]] std::string before_and_after_page(const InstrumentEntry& entry, const Visit& visit,
                                                const Look& look);
/// How the instrument was left on an earlier and on a later visit.
[[nodiscard]] std::string two_visits_page(const InstrumentEntry& entry, const Visit& earlier,
                                          const Visit& later, const Look& look);

[[nodiscard]] std::string history_page(std::span<const PastReading> readings, const Look& look);

}  // namespace midspan
