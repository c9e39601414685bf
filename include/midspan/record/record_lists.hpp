// record_lists.hpp: what is in the record, in short.
//
// Room: record. Pure. May include: ground to measurement.
#pragma once

#include <optional>
#include <string>

#include "midspan/record/setup_record.hpp"

namespace midspan {

/// An instrument in a list.
struct ListedInstrument {
    InstrumentEntry entry;
    int visits;
    std::optional<Day> last_visit;
    std::optional<int> open_visit;  ///< its number
};

/// A visit in a list.
struct ListedVisit {
    int number;
    Day day;
    bool open;
    std::string who;
    std::string work_done;
    int measurements;
    int readings;
    int surveys;
};

/// What was once read of one string.
struct PastReading {
    int visit;
    Day day;
    Moment taken_at;
    Cents tolerance;
    AnalysedString string;
};

}  // namespace midspan
