// record_store_rows.hpp: the values of the setup record as rows of its tables.
//
// Room: record, private. Edge: the disk. May include: ground to measurement.
#pragma once

#include <SQLiteCpp/Database.h>

#include <cstdint>
#include <vector>

#include "midspan/record/record_store.hpp"
#include "midspan/record/setup_record.hpp"

namespace midspan {

// All of them may throw SQLite::Exception and UnsoundRow, and none begins a transaction. An id is that of the
// row of the instrument or of the visit.

[[nodiscard]] std::int64_t insert_entry(SQLite::Database& database, const InstrumentEntry& entry);
void update_entry(SQLite::Database& database, std::int64_t instrument, const InstrumentEntry& entry);
[[nodiscard]] InstrumentEntry entry_of(SQLite::Database& database, std::int64_t instrument);

void insert_screw(SQLite::Database& database, std::int64_t instrument, const LearnedScrew& screw);
/// Of every string whose thread pitch or scale length is another in `entry`, or that is not there any more.
void forget_other_screws(SQLite::Database& database, std::int64_t instrument, const InstrumentEntry& entry);
[[nodiscard]] std::vector<LearnedScrew> screws_of(SQLite::Database& database, std::int64_t instrument);

/// With all that was measured, read and moved in it.
[[nodiscard]] std::int64_t insert_visit(SQLite::Database& database, std::int64_t instrument,
                                        const Visit& visit);
void update_visit(SQLite::Database& database, std::int64_t id, const Visit& visit);
[[nodiscard]] Visit visit_of(SQLite::Database& database, std::int64_t id);

void insert_measurement(SQLite::Database& database, std::int64_t visit, const BenchMeasurement& measurement);
void insert_move(SQLite::Database& database, std::int64_t visit, const RecordedMove& move);
void insert_reading(SQLite::Database& database, std::int64_t visit, const IntonationReading& reading);
void insert_survey(SQLite::Database& database, std::int64_t visit, const NeckReading& survey);
[[nodiscard]] std::vector<NeckReading> surveys_of(SQLite::Database& database, std::int64_t visit);
[[nodiscard]] std::vector<IntonationReading> readings_of(SQLite::Database& database, std::int64_t visit);
[[nodiscard]] std::vector<PastReading> readings_of_string(SQLite::Database& database, std::int64_t instrument,
                                                          int string);

}  // namespace midspan
