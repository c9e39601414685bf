// command_visit.hpp: the visits of an instrument, and what is measured and moved in them.
//
// Room: program. Edge: the disk, the screen. May include: everything.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "midspan/record/setup_record.hpp"
#include "midspan/result.hpp"
#include "midspan/view/look.hpp"
#include "program/opened_record.hpp"
#include "program/outcome.hpp"
#include "program/terminal.hpp"

namespace midspan::program {

/// What the command line says about a visit; what it does not say stays as it is.
struct VisitDetails {
    std::optional<Day> day{};
    std::optional<std::string> who{};
    std::optional<std::string> strings{};
    std::vector<FittedString> fitted{};
    std::optional<Day> strings_fitted_on{};
    std::optional<Celsius> temperature{};
    std::optional<RelativeHumidity> humidity{};
    std::optional<std::string> work_done{};  ///< put behind what was done before
    std::optional<std::string> note{};       ///< put behind the notes
};

// Where no instrument is named, the only one with an open visit is meant.

struct BeginVisit {
    RecordFile record;
    std::string instrument;
    VisitDetails details;
};
/// Adds to what is said about the open visit, or to that and ends it.
struct NoteVisit {
    RecordFile record;
    std::optional<std::string> instrument;
    VisitDetails details;
    bool end;
};
struct ListVisits {
    RecordFile record;
    std::string instrument;
    bool json;
};
struct ShowVisit {
    RecordFile record;
    std::optional<std::string> instrument;
    std::optional<int> number;  ///< nothing: the open one, or else the last
    LengthUnit unit;
    bool json;
};
/// What was done to a saddle.
struct MovedSaddle {
    RecordFile record;
    std::optional<std::string> instrument;
    RecordedMove move;  ///< its moment is that of the command
};
struct Measure {
    RecordFile record;
    std::optional<std::string> instrument;
    BenchMeasurement measurement;  ///< its moment is that of the command
    bool yes;
};
/// Takes a mistake out of a visit, or puts it back.
struct RemoveItem {
    RecordFile record;
    std::optional<std::string> instrument;
    std::optional<int> visit;  ///< as of ShowVisit
    VisitItem item;
    int number;
    bool yes;
};
struct RestoreItem {
    RecordFile record;
    std::optional<std::string> instrument;
    std::optional<int> visit;
    VisitItem item;
    int number;
};
struct CompareVisits {
    RecordFile record;
    std::optional<std::string> instrument;
    std::optional<std::pair<int, int>> visits;  ///< nothing: before and after, of the open visit or the last
    LengthUnit unit;
    bool json;
};
struct ShowHistory {
    RecordFile record;
    std::string instrument;
    int string;
    bool json;
};

[[nodiscard]] Result<Outcome> run(const BeginVisit& command);
[[nodiscard]] Result<Outcome> run(const NoteVisit& command);
[[nodiscard]] Result<Outcome> run(const ListVisits& command);
[[nodiscard]] Result<Outcome> run(const ShowVisit& command, const Screen& screen);
[[nodiscard]] Result<Outcome> run(const MovedSaddle& command);
[[nodiscard]] Result<Outcome> run(const Measure& command);
[[nodiscard]] Result<Outcome> run(const RemoveItem& command);
[[nodiscard]] Result<Outcome> run(const RestoreItem& command);
[[nodiscard]] Result<Outcome> run(const CompareVisits& command, const Screen& screen);
[[nodiscard]] Result<Outcome> run(const ShowHistory& command, const Screen& screen);

}  // namespace midspan::program
