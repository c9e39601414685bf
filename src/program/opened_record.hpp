// opened_record.hpp: the setup record a command works on, and the visit that is meant.
//
// Room: program. Edge: the disk, the screen. May include: everything.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "midspan/record/record_store.hpp"
#include "midspan/result.hpp"

namespace midspan::program {

/// What --record said; without it the user's own.
using RecordFile = std::optional<std::string>;

[[nodiscard]] Result<RecordStore> opened_record(const RecordFile& file);

/// Whether there is a record yet; looking makes none.
[[nodiscard]] bool record_is_there(const RecordFile& file);

/// An instrument and the number of one of its visits.
struct MeantVisit {
    std::string instrument;
    int number;
};

/// The open visit of that instrument; without a name, of the only instrument that has one.
[[nodiscard]] Result<MeantVisit> open_visit_of(RecordStore& store,
                                               const std::optional<std::string>& instrument);

/// Asks on the terminal whether it is meant so. Without a terminal nothing is asked: an Error that says what
/// the question was, and that --yes answers it.
[[nodiscard]] std::optional<Error> confirmed(std::string_view subject, std::string_view question);

}  // namespace midspan::program
