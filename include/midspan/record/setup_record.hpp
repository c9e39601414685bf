// setup_record.hpp: every instrument, every visit, and all that was found and done, as values.
//
// Room: record. Pure. May include: ground to measurement.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "midspan/instrument/instrument.hpp"
#include "midspan/measurement/analysis.hpp"
#include "midspan/measurement/survey.hpp"
#include "midspan/units.hpp"

namespace midspan {

using Celsius = Quantity<struct CelsiusUnit>;            ///< room temperature
using RelativeHumidity = Quantity<struct HumidityUnit>;  ///< percent, 0 to 100
using CentsPerTurn = Quantity<struct CentsPerTurnUnit>;  ///< what a saddle screw does

/// A moment in UTC as ISO 8601 writes it, to the second: "2026-03-14T09:26:53Z".
using Moment = std::string;

/// A day where the bench stands, as ISO 8601 writes it: "2026-03-14".
using Day = std::string;

enum class InstrumentKind { electric, acoustic, classical, bass, other };

enum class BridgeKind {
    individual_saddles,  ///< one saddle a string, each with its screw
    shared_saddles,      ///< one saddle carries two or three strings
    one_piece,           ///< one saddle carries them all
};

enum class Winding { plain, wound };

/// The string that is fitted, as far as its packet says.
struct FittedString {
    std::optional<Millimetres> gauge;
    std::optional<Winding> winding;
    std::optional<Millimetres> core;  ///< of a wound string
};

/// One instrument as it stands in the record. What is not known is left out, never guessed.
struct InstrumentEntry {
    Instrument instrument;  ///< its name is unique among those that are not deleted, and not empty
    InstrumentKind kind = InstrumentKind::electric;
    std::string strings{};               ///< what is fitted, as the packet calls it
    std::vector<FittedString> fitted{};  ///< fitted[0] is string 1; empty, or one a string
    std::optional<int> frets{};
    std::optional<Millimetres> fingerboard_radius{};
    BridgeKind bridge = BridgeKind::individual_saddles;
    std::string notes{};
    Moment added_at{};
    std::optional<Moment> deleted_at{};  ///< out of every list, but there to be restored
};

enum class BenchQuantity { relief, action, nut_height, fret_height, pickup_height };

/// How a number was taken; the same neck gives other numbers by another method.
struct BenchMethod {
    std::vector<int> held;        ///< frets the string was held down at, ascending; 0 is none
    bool last_fret_held = false;  ///< and at the last fret
    std::optional<int> capo;      ///< fret of the capo; nothing: no capo
    std::optional<int> read_at;   ///< the fret at which it was read
    std::string pickup;           ///< of a pickup height: "neck", "middle", "bridge"
    std::string tool;             ///< "feeler gauge", "straightedge"; empty: not said

    friend bool operator==(const BenchMethod&, const BenchMethod&) = default;
};

/// One number taken with ruler, gauge or caliper.
struct BenchMeasurement {
    Moment taken_at;
    BenchQuantity quantity;
    Millimetres value;
    std::string as_typed;       ///< "0.010in", "4/64in", "1.6"
    std::optional<int> string;  ///< at which string; nothing: at none of its own
    BenchMethod method;
    std::string note;
    std::optional<Moment> removed_at{};  ///< was a mistake: counts nowhere, but is there to be restored
};

/// How the sound came: from recordings, or live.
enum class ReadingSource { analyze, listen };

/// Everything one analysis said, so that it can be argued with later.
struct IntonationReading {
    Moment taken_at;
    ReadingSource source;
    Analysis analysis;
    std::optional<Moment> removed_at{};  ///< as of a measurement
};

/// Everything one survey of the neck said, and every pluck it heard.
struct NeckReading {
    Moment taken_at;
    ReadingSource source;
    NeckAnalysis analysis;
    std::optional<Moment> removed_at{};  ///< as of a measurement
};

/// What was then done to a saddle.
struct RecordedMove {
    Moment made_at;
    int string;
    std::optional<Millimetres> toward_tail;  ///< negative: toward the nut
    std::optional<Turns> turns;              ///< positive: in the sense that moves it toward the tail
    std::string note;
    std::optional<Moment> removed_at{};  ///< as of a measurement
};

/// One visit of an instrument to the bench.
struct Visit {
    int number;  ///< 1 is the first of this instrument
    Day day;
    Moment begun_at;
    std::optional<Moment> ended_at;  ///< nothing: open, and readings go to it
    std::string who;                 ///< did the work
    std::string strings;             ///< fitted during it, as the packet calls them
    std::vector<FittedString> fitted;
    std::optional<Day> strings_fitted_on;
    std::optional<Celsius> temperature;
    std::optional<RelativeHumidity> humidity;
    std::string work_done;
    std::string notes;
    std::vector<BenchMeasurement> measurements;  ///< in the order they were taken, removed ones too
    std::vector<IntonationReading> readings;     ///< likewise
    std::vector<NeckReading> surveys;            ///< likewise
    std::vector<RecordedMove> moves;             ///< likewise
};

/// The visit without what was removed from it: what comparisons and sheets go by.
[[nodiscard]] Visit as_it_stands(Visit visit);

/// What may stand in a visit more than once. In its list the first one of each has the number 1, and keeps
/// it whatever is removed.
enum class VisitItem { measurement, reading, survey, move };

/// What the screw of one saddle was learned to do, for the next visit.
struct LearnedScrew {
    int string;
    CentsPerTurn cents_per_turn;  ///< by which a turn toward the tail lowers the error at the 12th fret, > 0
    CentsPerTurn uncertainty;     ///< standard uncertainty
    int moves;                    ///< from how many
    Moment learned_at;
};

/// What one session at the bench leaves: of `listen` a reading for each round and the moves in between.
struct BenchWork {
    std::vector<IntonationReading> readings{};
    std::vector<RecordedMove> moves{};
    std::vector<LearnedScrew> screws{};  ///< take the place of what was known of them
};

/// An instrument and all that ever happened to it here.
struct InstrumentRecord {
    InstrumentEntry entry;
    std::vector<LearnedScrew> screws;  ///< at most one a string, string 1 first
    std::vector<Visit> visits;         ///< the first one first
};

/// The whole record.
struct SetupRecord {
    std::vector<InstrumentRecord> instruments;  ///< in the order they were added
};

}  // namespace midspan
