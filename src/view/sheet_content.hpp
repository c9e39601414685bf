// sheet_content.hpp: what a visit found and left, string by string, ready to be drawn and told.
//
// Room: view. Pure. May include: ground to record.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "midspan/record/setup_record.hpp"

namespace midspan {

/// How one string's saddle came from where it stood to where it stands.
struct WholeMove {
    Millimetres toward_tail;
    bool worked_out;  ///< from the errors before and after, because nobody wrote the moves down
};

/// One string over a visit. The pointers are into the visit and live as long as it does.
struct StringOverVisit {
    const InstrumentString& string;
    const FittedString* fitted = nullptr;    ///< nothing: not told
    const AnalysedString* before = nullptr;  ///< in the first reading that could compare it
    const AnalysedString* after = nullptr;   ///< in the last such reading, if that is another one
    std::optional<WholeMove> move;           ///< nothing: not known whether or how far it moved
    std::optional<Turns> turned;             ///< all turns of its screw, when they were all counted

    /// The last word on it.
    [[nodiscard]] const AnalysedString* last() const { return after != nullptr ? after : before; }
};

/// The strings as a player says the tuning, string 1 last.
[[nodiscard]] std::vector<StringOverVisit> strings_over(const InstrumentEntry& instrument,
                                                        const Visit& visit);

/// The tolerance the last reading was judged by; the usual one when there is none.
[[nodiscard]] Cents tolerance_of(const Visit& visit);

/// Do both say the same of the same string, measured by the same method?
[[nodiscard]] bool same_thing(const BenchMeasurement& a, const BenchMeasurement& b);

/// One thing that was measured by one method. The pointers are into the visit.
struct MeasuredOverVisit {
    const BenchMeasurement* before = nullptr;
    const BenchMeasurement* after = nullptr;
    [[nodiscard]] const BenchMeasurement& any() const { return before != nullptr ? *before : *after; }
};

/// The measurements of a visit, those of the same thing by the same method together, in the order they were
/// first taken. One taken once counts as received, unless a saddle had been moved before.
[[nodiscard]] std::vector<MeasuredOverVisit> measured_over(const Visit& visit);

}  // namespace midspan
