// record_store_rows.cpp: instruments, visits and what was measured, row by row.
//
// Room: record. Edge: the disk.
#include "record/record_store_rows.hpp"

#include <algorithm>
#include <charconv>

#include "instrument/typed_text.hpp"
#include "record/neck_analysis_text.hpp"
#include "record/record_store_saddle.hpp"
#include "record/record_store_values.hpp"

namespace midspan {
namespace {

/// The strings on it, of an instrument or of a visit: tables of the same shape.
void write_fitted(SQLite::Database& database, const std::string& owner, std::int64_t id,
                  const std::vector<FittedString>& fitted) {
    (Filling{database, "DELETE FROM " + owner + "_fitted WHERE " + owner + "_id = ?"} << id).run();
    for (std::size_t i = 0; i < fitted.size(); ++i) {
        (Filling{database, "INSERT INTO " + owner + "_fitted VALUES (?, ?, ?, ?, ?)"}
         << id << static_cast<int>(i + 1) << fitted[i].gauge << fitted[i].winding << fitted[i].core)
            .run();
    }
}

std::vector<FittedString> fitted_of(SQLite::Database& database, const std::string& owner, std::int64_t id) {
    Filling query{database, "SELECT gauge_mm, winding, core_mm FROM " + owner + "_fitted WHERE " + owner +
                                "_id = ? ORDER BY number"};
    query << id;
    std::vector<FittedString> fitted;
    while (query.next_row()) {
        Row row{query};
        fitted.push_back({row.take<std::optional<Millimetres>>(), row.take<std::optional<Winding>>(),
                          row.take<std::optional<Millimetres>>()});
    }
    return fitted;
}

/// What belongs to the row of an instrument, but stands in tables of its own.
void write_strings(SQLite::Database& database, std::int64_t id, const InstrumentEntry& entry) {
    (Filling{database, "DELETE FROM instrument_string WHERE instrument_id = ?"} << id).run();
    for (const InstrumentString& string : entry.instrument.strings) {
        Filling insert{database, "INSERT INTO instrument_string VALUES (?, ?, ?, ?, ?, ?, ?, ?)"};
        fill_string(insert << id, string);
        insert.run();
    }
    write_fitted(database, "instrument", id, entry.fitted);
}

void fill_entry(Filling& filling, const InstrumentEntry& entry) {
    filling << entry.instrument.name << entry.kind << entry.instrument.a4 << entry.instrument.left_handed
            << entry.strings << entry.frets << entry.fingerboard_radius << entry.bridge << entry.notes
            << entry.added_at << entry.deleted_at;
}

void fill_visit(Filling& filling, const Visit& visit) {
    filling << visit.day << visit.begun_at << visit.ended_at << visit.who << visit.strings
            << visit.strings_fitted_on << visit.temperature << visit.humidity << visit.work_done
            << visit.notes;
}

std::string with_commas(const std::vector<int>& numbers) {
    std::string text;
    for (const int number : numbers)
        text += (text.empty() ? "" : ",") + std::to_string(number);
    return text;
}

std::vector<int> numbers_of(const std::string& text) {
    std::vector<int> numbers;
    for (const std::string_view word : between_commas(text)) {
        const auto end = word.data() + word.size();
        int number = 0;
        if (std::from_chars(word.data(), end, number).ptr != end) throw UnsoundRow{};
        numbers.push_back(number);
    }
    return numbers;
}

std::vector<BenchMeasurement> measurements_of(SQLite::Database& database, std::int64_t visit) {
    Filling query{database,
                  "SELECT taken_at, quantity, value_mm, as_typed, string, held, last_fret_held, capo, "
                  "read_at, pickup, tool, note, removed_at FROM measurement WHERE visit_id = ? ORDER BY id"};
    query << visit;
    std::vector<BenchMeasurement> measurements;
    while (query.next_row()) {
        Row row{query};
        measurements.push_back(
            {row.take<Moment>(),
             row.take<BenchQuantity>(),
             row.take<Millimetres>(),
             row.take<std::string>(),
             row.take<std::optional<int>>(),
             {numbers_of(row.take<std::string>()), row.take<bool>(), row.take<std::optional<int>>(),
              row.take<std::optional<int>>(), row.take<std::string>(), row.take<std::string>()},
             row.take<std::string>(),
             row.take<std::optional<Moment>>()});
    }
    return measurements;
}

std::vector<RecordedMove> moves_of(SQLite::Database& database, std::int64_t visit) {
    Filling query{
        database,
        "SELECT made_at, string, toward_tail_mm, turns, note, removed_at FROM move WHERE visit_id = ? "
        "ORDER BY id"};
    query << visit;
    std::vector<RecordedMove> moves;
    while (query.next_row()) {
        Row row{query};
        moves.push_back({row.take<Moment>(), row.take<int>(), row.take<std::optional<Millimetres>>(),
                         row.take<std::optional<Turns>>(), row.take<std::string>(),
                         row.take<std::optional<Moment>>()});
    }
    return moves;
}

}  // namespace

std::int64_t insert_entry(SQLite::Database& database, const InstrumentEntry& entry) {
    Filling insert{database,
                   "INSERT INTO instrument (name, kind, a4_hz, left_handed, strings, frets, "
                   "fingerboard_radius_mm, bridge, notes, added_at, deleted_at) VALUES (?, ?, ?, ?, "
                   "?, ?, ?, ?, ?, ?, ?)"};
    fill_entry(insert, entry);
    insert.run();
    const std::int64_t id = database.getLastInsertRowid();
    write_strings(database, id, entry);
    return id;
}

void update_entry(SQLite::Database& database, std::int64_t instrument, const InstrumentEntry& entry) {
    Filling update{database,
                   "UPDATE instrument SET name = ?, kind = ?, a4_hz = ?, left_handed = ?, strings = ?, "
                   "frets = ?, fingerboard_radius_mm = ?, bridge = ?, notes = ?, added_at = ?, "
                   "deleted_at = ? WHERE id = ?"};
    fill_entry(update, entry);
    (update << instrument).run();
    write_strings(database, instrument, entry);
}

InstrumentEntry entry_of(SQLite::Database& database, std::int64_t instrument) {
    Filling query{database,
                  "SELECT name, kind, a4_hz, left_handed, strings, frets, fingerboard_radius_mm, "
                  "bridge, notes, added_at, deleted_at FROM instrument WHERE id = ?"};
    query << instrument;
    if (!query.next_row()) throw UnsoundRow{};
    Row row{query};
    InstrumentEntry entry{Instrument{row.take<std::string>(), Hertz{440.0}, {}, false}};
    entry.kind = row.take<InstrumentKind>();
    entry.instrument.a4 = row.take<Hertz>();
    entry.instrument.left_handed = row.take<bool>();
    entry.strings = row.take<std::string>();
    entry.frets = row.take<std::optional<int>>();
    entry.fingerboard_radius = row.take<std::optional<Millimetres>>();
    entry.bridge = row.take<BridgeKind>();
    entry.notes = row.take<std::string>();
    entry.added_at = row.take<Moment>();
    entry.deleted_at = row.take<std::optional<Moment>>();

    Filling strings{database,
                    "SELECT number, open_note, scale_length_mm, thread_pitch_mm, "
                    "clockwise_is_toward_tail, travel_toward_nut_mm, travel_toward_tail_mm FROM "
                    "instrument_string WHERE instrument_id = ? ORDER BY number"};
    strings << instrument;
    while (strings.next_row()) {
        Row string{strings};
        entry.instrument.strings.push_back(take_string(string, entry.instrument.a4));
        if (entry.instrument.strings.back().number != static_cast<int>(entry.instrument.strings.size())) {
            throw UnsoundRow{};
        }
    }
    if (entry.instrument.strings.empty()) throw UnsoundRow{};
    entry.fitted = fitted_of(database, "instrument", instrument);
    return entry;
}

void insert_screw(SQLite::Database& database, std::int64_t instrument, const LearnedScrew& screw) {
    (Filling{database, "INSERT OR REPLACE INTO learned_screw VALUES (?, ?, ?, ?, ?, ?)"}
     << instrument << screw.string << screw.cents_per_turn << screw.uncertainty << screw.moves
     << screw.learned_at)
        .run();
}

void forget_other_screws(SQLite::Database& database, std::int64_t instrument, const InstrumentEntry& entry) {
    const auto& now = entry.instrument.strings;
    for (const InstrumentString& before : entry_of(database, instrument).instrument.strings) {
        const auto same = std::ranges::find_if(now, [&before](const InstrumentString& after) {
            return after.number == before.number && after.scale_length == before.scale_length &&
                   after.saddle.thread_pitch == before.saddle.thread_pitch;
        });
        if (same != now.end()) continue;
        (Filling{database, "DELETE FROM learned_screw WHERE instrument_id = ? AND string = ?"}
         << instrument << before.number)
            .run();
    }
}

std::vector<LearnedScrew> screws_of(SQLite::Database& database, std::int64_t instrument) {
    Filling query{database,
                  "SELECT string, cents_per_turn, uncertainty, moves, learned_at FROM learned_screw "
                  "WHERE instrument_id = ? ORDER BY string"};
    query << instrument;
    std::vector<LearnedScrew> screws;
    while (query.next_row()) {
        Row row{query};
        screws.push_back({row.take<int>(), row.take<CentsPerTurn>(), row.take<CentsPerTurn>(),
                          row.take<int>(), row.take<Moment>()});
    }
    return screws;
}

std::int64_t insert_visit(SQLite::Database& database, std::int64_t instrument, const Visit& visit) {
    Filling insert{database,
                   "INSERT INTO visit (instrument_id, number, day, begun_at, ended_at, who, strings, "
                   "strings_fitted_on, temperature_celsius, humidity_percent, work_done, notes) "
                   "VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"};
    insert << instrument << visit.number;
    fill_visit(insert, visit);
    insert.run();
    const std::int64_t id = database.getLastInsertRowid();
    write_fitted(database, "visit", id, visit.fitted);
    for (const BenchMeasurement& measurement : visit.measurements)
        insert_measurement(database, id, measurement);
    for (const IntonationReading& reading : visit.readings)
        insert_reading(database, id, reading);
    for (const NeckReading& survey : visit.surveys)
        insert_survey(database, id, survey);
    for (const RecordedMove& move : visit.moves)
        insert_move(database, id, move);
    return id;
}

void update_visit(SQLite::Database& database, std::int64_t id, const Visit& visit) {
    Filling update{database,
                   "UPDATE visit SET day = ?, begun_at = ?, ended_at = ?, who = ?, strings = ?, "
                   "strings_fitted_on = ?, temperature_celsius = ?, humidity_percent = ?, work_done "
                   "= ?, notes = ? WHERE id = ?"};
    fill_visit(update, visit);
    (update << id).run();
    write_fitted(database, "visit", id, visit.fitted);
}

Visit visit_of(SQLite::Database& database, std::int64_t id) {
    Filling query{database,
                  "SELECT number, day, begun_at, ended_at, who, strings, strings_fitted_on, "
                  "temperature_celsius, humidity_percent, work_done, notes FROM visit WHERE id = ?"};
    query << id;
    if (!query.next_row()) throw UnsoundRow{};
    Row row{query};
    Visit visit{};
    visit.number = row.take<int>();
    visit.day = row.take<Day>();
    visit.begun_at = row.take<Moment>();
    visit.ended_at = row.take<std::optional<Moment>>();
    visit.who = row.take<std::string>();
    visit.strings = row.take<std::string>();
    visit.strings_fitted_on = row.take<std::optional<Day>>();
    visit.temperature = row.take<std::optional<Celsius>>();
    visit.humidity = row.take<std::optional<RelativeHumidity>>();
    visit.work_done = row.take<std::string>();
    visit.notes = row.take<std::string>();
    visit.fitted = fitted_of(database, "visit", id);
    visit.measurements = measurements_of(database, id);
    visit.readings = readings_of(database, id);
    visit.surveys = surveys_of(database, id);
    visit.moves = moves_of(database, id);
    return visit;
}

void insert_measurement(SQLite::Database& database, std::int64_t visit, const BenchMeasurement& measurement) {
    const BenchMethod& method = measurement.method;
    (Filling{database,
             "INSERT INTO measurement (visit_id, taken_at, quantity, value_mm, as_typed, string, held, "
             "last_fret_held, capo, read_at, pickup, tool, note, removed_at) VALUES (?, ?, ?, ?, ?, ?, ?, ?, "
             "?, ?, "
             "?, ?, ?, ?)"}
     << visit << measurement.taken_at << measurement.quantity << measurement.value << measurement.as_typed
     << measurement.string << with_commas(method.held) << method.last_fret_held << method.capo
     << method.read_at << method.pickup << method.tool << measurement.note << measurement.removed_at)
        .run();
}

void insert_survey(SQLite::Database& database, std::int64_t visit, const NeckReading& survey) {
    (Filling{database,
             "INSERT INTO survey (visit_id, taken_at, source, analysis, removed_at) VALUES (?, ?, ?, ?, ?)"}
     << visit << survey.taken_at << survey.source << neck_analysis_text(survey.analysis) << survey.removed_at)
        .run();
}

std::vector<NeckReading> surveys_of(SQLite::Database& database, std::int64_t visit) {
    Filling query{database,
                  "SELECT taken_at, source, analysis, removed_at FROM survey WHERE visit_id = ? ORDER BY id"};
    query << visit;
    std::vector<NeckReading> surveys;
    while (query.next_row()) {
        Row row{query};
        auto taken_at = row.take<Moment>();
        const auto source = row.take<ReadingSource>();
        auto analysis = neck_analysis_in(row.take<std::string>());
        if (!analysis) throw UnsoundRow{};
        surveys.push_back(
            {std::move(taken_at), source, *std::move(analysis), row.take<std::optional<Moment>>()});
    }
    return surveys;
}

void insert_move(SQLite::Database& database, std::int64_t visit, const RecordedMove& move) {
    (Filling{database,
             "INSERT INTO move (visit_id, made_at, string, toward_tail_mm, turns, note, removed_at) VALUES "
             "(?, ?, ?, "
             "?, ?, ?, ?)"}
     << visit << move.made_at << move.string << move.toward_tail << move.turns << move.note
     << move.removed_at)
        .run();
}

}  // namespace midspan
