// record_store_schema.cpp: the scripts that make the tables, and the copy made before one runs.
//
// Room: record. Edge: the disk.
#include "record/record_store_schema.hpp"

#include <SQLiteCpp/Backup.h>
#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>
#include <fmt/format.h>

#include <array>
#include <filesystem>

#include "record/record_store_fault.hpp"

namespace midspan {
namespace {

/// "mids": tells a setup record from other SQLite files.
constexpr int application_id = 0x6d696473;

// Moments and days are ISO 8601; lengths millimetres, whatever was typed; every uncertainty is a standard
// uncertainty. Lists of frets and of warning codes are separated by commas.
constexpr std::string_view version_1 = R"sql(
CREATE TABLE instrument (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL CHECK (name <> ''),
    kind TEXT NOT NULL,
    a4_hz REAL NOT NULL,
    left_handed INTEGER NOT NULL,
    strings TEXT NOT NULL,
    frets INTEGER,
    fingerboard_radius_mm REAL,
    bridge TEXT NOT NULL,
    notes TEXT NOT NULL,
    added_at TEXT NOT NULL,
    deleted_at TEXT
) STRICT;
CREATE UNIQUE INDEX instrument_name ON instrument (name) WHERE deleted_at IS NULL;

CREATE TABLE instrument_string (
    instrument_id INTEGER NOT NULL REFERENCES instrument,
    number INTEGER NOT NULL,
    open_note TEXT NOT NULL,
    scale_length_mm REAL NOT NULL,
    thread_pitch_mm REAL,
    clockwise_is_toward_tail INTEGER,
    travel_toward_nut_mm REAL,
    travel_toward_tail_mm REAL,
    PRIMARY KEY (instrument_id, number)
) STRICT;

CREATE TABLE instrument_fitted (
    instrument_id INTEGER NOT NULL REFERENCES instrument,
    number INTEGER NOT NULL,
    gauge_mm REAL,
    winding TEXT,
    core_mm REAL,
    PRIMARY KEY (instrument_id, number)
) STRICT;

CREATE TABLE learned_screw (
    instrument_id INTEGER NOT NULL REFERENCES instrument,
    string INTEGER NOT NULL,
    cents_per_turn REAL NOT NULL,
    uncertainty REAL NOT NULL,
    moves INTEGER NOT NULL,
    learned_at TEXT NOT NULL,
    PRIMARY KEY (instrument_id, string)
) STRICT;

CREATE TABLE visit (
    id INTEGER PRIMARY KEY,
    instrument_id INTEGER NOT NULL REFERENCES instrument,
    number INTEGER NOT NULL,
    day TEXT NOT NULL,
    begun_at TEXT NOT NULL,
    ended_at TEXT,
    who TEXT NOT NULL,
    strings TEXT NOT NULL,
    strings_fitted_on TEXT,
    temperature_celsius REAL,
    humidity_percent REAL,
    work_done TEXT NOT NULL,
    notes TEXT NOT NULL,
    UNIQUE (instrument_id, number)
) STRICT;
CREATE UNIQUE INDEX visit_open ON visit (instrument_id) WHERE ended_at IS NULL;

CREATE TABLE visit_fitted (
    visit_id INTEGER NOT NULL REFERENCES visit,
    number INTEGER NOT NULL,
    gauge_mm REAL,
    winding TEXT,
    core_mm REAL,
    PRIMARY KEY (visit_id, number)
) STRICT;

CREATE TABLE measurement (
    id INTEGER PRIMARY KEY,
    visit_id INTEGER NOT NULL REFERENCES visit,
    taken_at TEXT NOT NULL,
    quantity TEXT NOT NULL,
    value_mm REAL NOT NULL,
    as_typed TEXT NOT NULL,
    string INTEGER,
    held TEXT NOT NULL,
    last_fret_held INTEGER NOT NULL,
    capo INTEGER,
    read_at INTEGER,
    pickup TEXT NOT NULL,
    tool TEXT NOT NULL,
    note TEXT NOT NULL
) STRICT;
CREATE INDEX measurement_visit ON measurement (visit_id);

CREATE TABLE move (
    id INTEGER PRIMARY KEY,
    visit_id INTEGER NOT NULL REFERENCES visit,
    made_at TEXT NOT NULL,
    string INTEGER NOT NULL,
    toward_tail_mm REAL,
    turns REAL,
    note TEXT NOT NULL
) STRICT;
CREATE INDEX move_visit ON move (visit_id);

CREATE TABLE reading (
    id INTEGER PRIMARY KEY,
    visit_id INTEGER NOT NULL REFERENCES visit,
    taken_at TEXT NOT NULL,
    source TEXT NOT NULL,
    tolerance_cents REAL NOT NULL,
    a4_hz REAL NOT NULL
) STRICT;
CREATE INDEX reading_visit ON reading (visit_id);

CREATE TABLE reading_recording (
    reading_id INTEGER NOT NULL REFERENCES reading,
    position INTEGER NOT NULL,
    path TEXT NOT NULL,
    sample_rate_hz REAL NOT NULL,
    channels INTEGER NOT NULL,
    channel_used INTEGER NOT NULL,
    channel_chosen_by_user INTEGER NOT NULL,
    duration_s REAL NOT NULL,
    PRIMARY KEY (reading_id, position)
) STRICT;

CREATE TABLE reading_string (
    reading_id INTEGER NOT NULL REFERENCES reading,
    number INTEGER NOT NULL,
    open_note TEXT NOT NULL,
    scale_length_mm REAL NOT NULL,
    thread_pitch_mm REAL,
    clockwise_is_toward_tail INTEGER,
    travel_toward_nut_mm REAL,
    travel_toward_tail_mm REAL,
    tuning_frequency_hz REAL,
    tuning_off_cents REAL,
    tuning_from_open INTEGER,
    harmonic_hz REAL,
    harmonic_uncertainty_hz REAL,
    fretted_hz REAL,
    fretted_uncertainty_hz REAL,
    harmonic_uncertainty_cents REAL,
    fretted_uncertainty_cents REAL,
    harmonics INTEGER,
    fretted_notes INTEGER,
    error_cents REAL,
    error_uncertainty_cents REAL,
    scatter_cents REAL,
    scattered INTEGER,
    move_mm REAL,
    move_uncertainty_mm REAL,
    turns REAL,
    inharmonicity REAL,
    verdict TEXT NOT NULL,
    warnings TEXT NOT NULL,
    PRIMARY KEY (reading_id, number)
) STRICT;

CREATE TABLE reading_pluck (
    reading_id INTEGER NOT NULL REFERENCES reading,
    position INTEGER NOT NULL,
    recording INTEGER NOT NULL,
    start_s REAL NOT NULL,
    string INTEGER,
    kind TEXT,
    used INTEGER NOT NULL,
    level_db REAL NOT NULL,
    frequency_hz REAL,
    uncertainty_cents REAL,
    inharmonicity REAL,
    inharmonicity_uncertainty REAL,
    glide_cents REAL,
    glide_time_s REAL,
    partials INTEGER,
    span_s REAL,
    signal_to_noise_db REAL,
    odd_partials_db REAL,
    odd_partials_floor_db REAL,
    not_settled INTEGER,
    beating INTEGER,
    string_suspect INTEGER,
    warnings TEXT NOT NULL,
    PRIMARY KEY (reading_id, position)
) STRICT;

CREATE TABLE reading_warning (
    reading_id INTEGER NOT NULL REFERENCES reading,
    position INTEGER NOT NULL,
    code TEXT NOT NULL,
    at_s REAL,
    string INTEGER,
    recording INTEGER,
    message TEXT NOT NULL,
    PRIMARY KEY (reading_id, position)
) STRICT;
)sql";

// A survey is written once and read as a whole; its lists of lists are kept as the JSON of the export.
constexpr std::string_view surveys = R"sql(
CREATE TABLE survey (
    id INTEGER PRIMARY KEY,
    visit_id INTEGER NOT NULL REFERENCES visit,
    taken_at TEXT NOT NULL,
    source TEXT NOT NULL,
    analysis TEXT NOT NULL CHECK (json_valid(analysis))
) STRICT;
CREATE INDEX survey_visit ON survey (visit_id);
)sql";

// Mistakes can be removed from a visit and restored; turns say how sure they are and where they come from.
constexpr std::string_view removals = R"sql(
ALTER TABLE measurement ADD COLUMN removed_at TEXT;
ALTER TABLE reading ADD COLUMN removed_at TEXT;
ALTER TABLE survey ADD COLUMN removed_at TEXT;
ALTER TABLE move ADD COLUMN removed_at TEXT;
ALTER TABLE reading_string ADD COLUMN turns_uncertainty REAL;
ALTER TABLE reading_string ADD COLUMN turns_learned INTEGER NOT NULL DEFAULT 0;
)sql";

constexpr std::array migrations_of_today{version_1, surveys, removals};

int number_of(SQLite::Database& database, const char* query) { return database.execAndGet(query).getInt(); }

std::optional<Error> fault_of_kind(SQLite::Database& database, const std::string& path, int last_version) {
    // One state of the file, although another one may be making it at this moment.
    const SQLite::Transaction same_state{database, SQLite::TransactionBehavior::DEFERRED};
    const int id = number_of(database, "PRAGMA application_id");
    const int version = number_of(database, "PRAGMA user_version");
    const bool empty =
        id == 0 && version == 0 && number_of(database, "SELECT count(*) FROM sqlite_schema") == 0;
    if (!empty && id != application_id) return no_setup_record(path);
    if (version <= last_version) return std::nullopt;
    return Error{Fault::record, path,
                 fmt::format("was written by a newer midspan (version {} of the record)", version),
                 "use that midspan, or another record with --record FILE"};
}

/// Lays a whole copy beside the record: first under another name, so that a copy with the right one is whole.
void lay_copy(const std::string& path, int version) {
    const std::string copy = fmt::format("{}.version-{}", path, version);
    const std::string unfinished = copy + ".unfinished";
    std::filesystem::remove(unfinished);
    {
        SQLite::Database source{path, SQLite::OPEN_READONLY};
        SQLite::Database target{unfinished, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
        SQLite::Backup{target, source}.executeStep();
    }
    std::filesystem::rename(unfinished, copy);
}

}  // namespace

std::span<const std::string_view> record_migrations() { return migrations_of_today; }

std::optional<Error> migrate(SQLite::Database& database, const std::string& path,
                             std::span<const std::string_view> migrations) {
    const int last_version = static_cast<int>(migrations.size());
    if (auto fault = fault_of_kind(database, path, last_version)) return fault;
    if (number_of(database, "PRAGMA user_version") == last_version) return std::nullopt;

    SQLite::Transaction transaction{database, SQLite::TransactionBehavior::IMMEDIATE};
    const int version = number_of(database, "PRAGMA user_version");  // another one may have been faster
    if (version >= last_version) return std::nullopt;
    if (version > 0) {
        if (database.execAndGet("PRAGMA integrity_check").getString() != "ok") return damaged(path);
        lay_copy(path, version);
    }
    for (const std::string_view script : migrations.subspan(static_cast<std::size_t>(version))) {
        database.exec(std::string{script});
    }
    database.exec(
        fmt::format("PRAGMA application_id = {}; PRAGMA user_version = {}", application_id, last_version));
    transaction.commit();
    return std::nullopt;
}

}  // namespace midspan
