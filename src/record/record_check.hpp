// record_check.hpp: can a record that came from outside be so?
//
// Room: record. Pure. May include: ground to measurement.
#pragma once

#include <optional>
#include <string>

#include "midspan/record/setup_record.hpp"

namespace midspan {

/// The first thing in a record that cannot be so, with its place, in words; nothing when all can.
[[nodiscard]] std::optional<std::string> nonsense_in(const SetupRecord& record);

/// The same of one survey.
[[nodiscard]] std::optional<std::string> nonsense_in(const NeckAnalysis& analysis);

}  // namespace midspan
