// record_names.hpp: the record's enumerators as the store, JSON and CSV spell them.
//
// Room: record. Pure. May include: ground to measurement.
#pragma once

#include <optional>
#include <string_view>

#include "midspan/record/setup_record.hpp"

namespace midspan {

/// Spelled exactly as the enumerator.
[[nodiscard]] std::string_view name_of(InstrumentKind kind);
[[nodiscard]] std::string_view name_of(BridgeKind kind);
[[nodiscard]] std::string_view name_of(Winding winding);
[[nodiscard]] std::string_view name_of(BenchQuantity quantity);
[[nodiscard]] std::string_view name_of(ReadingSource source);
[[nodiscard]] std::string_view name_of(VisitItem item);
[[nodiscard]] std::string_view name_of(NoteKind kind);
[[nodiscard]] std::string_view name_of(Verdict verdict);
[[nodiscard]] std::string_view name_of(WarningCode code);
[[nodiscard]] std::string_view name_of(NeckCause cause);
[[nodiscard]] std::string_view name_of(SaddleSharing sharing);
[[nodiscard]] std::string_view name_of(SurveyReference reference);

/// The enumerator that is spelled like this, if there is one; for each of the types above.
template <class Enumeration>
[[nodiscard]] std::optional<Enumeration> from_name(std::string_view name);

}  // namespace midspan
