// record_store_readings.cpp: everything an analysis said, as rows.
//
// Room: record. Edge: the disk.
#include "instrument/typed_text.hpp"
#include "record/record_store_rows.hpp"
#include "record/record_store_saddle.hpp"
#include "record/record_store_values.hpp"

namespace midspan {
namespace {

std::string with_commas(const std::vector<WarningCode>& codes) {
    std::string text;
    for (const WarningCode code : codes) {
        if (!text.empty()) text += ',';
        text += name_of(code);
    }
    return text;
}

std::vector<WarningCode> codes_of(const std::string& text) {
    std::vector<WarningCode> codes;
    for (const std::string_view word : between_commas(text)) {
        const auto code = from_name<WarningCode>(word);
        if (!code) throw UnsoundRow{};
        codes.push_back(*code);
    }
    return codes;
}

void leave_empty(Filling& filling, int columns) {
    for (; columns > 0; --columns)
        filling << std::optional<double>{};
}

void insert(SQLite::Database& database, std::int64_t reading, int position,
            const AnalysedRecording& recording) {
    (Filling{database, "INSERT INTO reading_recording VALUES (?, ?, ?, ?, ?, ?, ?, ?)"}
     << reading << position << recording.path << recording.sample_rate << recording.channels
     << recording.channel_used << recording.channel_chosen_by_user << recording.duration)
        .run();
}

constexpr int tuning_columns = 3;
constexpr int comparison_columns = 12;
constexpr int move_columns = 2;

void insert(SQLite::Database& database, std::int64_t reading, const AnalysedString& string) {
    Filling row{database,
                "INSERT INTO reading_string VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, "
                "?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)"};
    fill_string(row << reading, string.string);
    if (const auto& tuning = string.tuning) {
        row << tuning->frequency << tuning->off << tuning->from_open;
    } else {
        leave_empty(row, tuning_columns);
    }
    if (const auto& found = string.comparison) {
        row << found->harmonic.value << found->harmonic.uncertainty << found->fretted.value
            << found->fretted.uncertainty << found->harmonic_uncertainty << found->fretted_uncertainty
            << found->harmonics << found->fretted_notes << found->error.value << found->error.uncertainty
            << found->scatter << found->scattered;
    } else {
        leave_empty(row, comparison_columns);
    }
    if (const auto& move = string.move) {
        row << move->toward_tail << move->uncertainty;
    } else {
        leave_empty(row, move_columns);
    }
    row << string.turns << string.inharmonicity << string.verdict << with_commas(string.warnings)
        << string.turns_uncertainty << string.turns_learned;
    row.run();
}

constexpr int pitch_columns = 14;

void insert(SQLite::Database& database, std::int64_t reading, int position, const AnalysedPluck& pluck) {
    Filling row{database,
                "INSERT INTO reading_pluck VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, "
                "?, ?, ?, ?, ?, ?)"};
    row << reading << position << pluck.recording << pluck.start << pluck.string << pluck.kind << pluck.used
        << pluck.level;
    if (const auto& pitch = pluck.reading) {
        row << pitch->frequency << pitch->uncertainty << pitch->inharmonicity
            << pitch->inharmonicity_uncertainty << pitch->glide << pitch->glide_time << pitch->partials
            << pitch->span << pitch->signal_to_noise << pitch->odd_partials << pitch->odd_partials_floor
            << pitch->not_settled << pitch->beating << pitch->string_suspect;
    } else {
        leave_empty(row, pitch_columns);
    }
    (row << with_commas(pluck.warnings)).run();
}

void insert(SQLite::Database& database, std::int64_t reading, int position, const Warning& warning) {
    (Filling{database, "INSERT INTO reading_warning VALUES (?, ?, ?, ?, ?, ?, ?)"}
     << reading << position << warning.code << warning.at << warning.string << warning.recording
     << warning.message)
        .run();
}

/// From the column `number` on.
AnalysedString take_analysed_string(Row& row, Hertz a4) {
    AnalysedString string{take_string(row, a4), {}, {}, {}, {}, {}, Verdict::measure_again, {}};
    if (row.next_is_null()) {
        row.skip(tuning_columns);
    } else {
        string.tuning = TuningCheck{row.take<Hertz>(), row.take<Cents>(), row.take<bool>()};
    }
    if (row.next_is_null()) {
        row.skip(comparison_columns);
    } else {
        string.comparison = OctaveComparison{{row.take<Hertz>(), row.take<Hertz>()},
                                             {row.take<Hertz>(), row.take<Hertz>()},
                                             row.take<Cents>(),
                                             row.take<Cents>(),
                                             row.take<int>(),
                                             row.take<int>(),
                                             {row.take<Cents>(), row.take<Cents>()},
                                             row.take<Cents>(),
                                             row.take<bool>()};
    }
    if (row.next_is_null()) {
        row.skip(move_columns);
    } else {
        string.move = SaddleMove{row.take<Millimetres>(), row.take<Millimetres>()};
    }
    string.turns = row.take<std::optional<Turns>>();
    string.inharmonicity = row.take<std::optional<double>>();
    string.verdict = row.take<Verdict>();
    string.warnings = codes_of(row.take<std::string>());
    string.turns_uncertainty = row.take<std::optional<Turns>>();
    string.turns_learned = row.take<bool>();
    return string;
}

AnalysedPluck take_pluck(Row& row) {
    AnalysedPluck pluck{row.take<int>(),
                        row.take<Seconds>(),
                        row.take<std::optional<int>>(),
                        row.take<std::optional<NoteKind>>(),
                        row.take<bool>(),
                        row.take<Decibels>(),
                        {},
                        {}};
    if (row.next_is_null()) {
        row.skip(pitch_columns);
    } else {
        pluck.reading = PitchReading{row.take<Hertz>(),    row.take<Cents>(),    row.take<double>(),
                                     row.take<double>(),   row.take<Cents>(),    row.take<Seconds>(),
                                     row.take<int>(),      row.take<Seconds>(),  row.take<Decibels>(),
                                     row.take<Decibels>(), row.take<Decibels>(), row.take<bool>(),
                                     row.take<bool>(),     row.take<bool>()};
    }
    pluck.warnings = codes_of(row.take<std::string>());
    return pluck;
}

Analysis analysis_of(SQLite::Database& database, std::int64_t reading, Cents tolerance, Hertz a4) {
    Analysis analysis{tolerance, a4, {}, {}, {}, {}};
    const auto rows_of = [&](const char* table, const char* order, const auto& take) {
        Filling query{database,
                      std::string{"SELECT * FROM "} + table + " WHERE reading_id = ? ORDER BY " + order};
        query << reading;
        while (query.next_row()) {
            take(query);
        }
    };
    // In these tables the reading comes first and the position second; a string's number is its position.
    rows_of("reading_recording", "position", [&](Filling& query) {
        Row row{query, 2};
        analysis.recordings.push_back({row.take<std::string>(), row.take<Hertz>(), row.take<int>(),
                                       row.take<int>(), row.take<bool>(), row.take<Seconds>()});
    });
    rows_of("reading_string", "number", [&](Filling& query) {
        Row row{query, 1};
        analysis.strings.push_back(take_analysed_string(row, a4));
    });
    rows_of("reading_pluck", "position", [&](Filling& query) {
        Row row{query, 2};
        analysis.plucks.push_back(take_pluck(row));
    });
    rows_of("reading_warning", "position", [&](Filling& query) {
        Row row{query, 2};
        analysis.warnings.push_back({row.take<WarningCode>(), row.take<std::optional<Seconds>>(),
                                     row.take<std::optional<int>>(), row.take<std::optional<int>>(),
                                     row.take<std::string>()});
    });
    return analysis;
}

}  // namespace

void insert_reading(SQLite::Database& database, std::int64_t visit, const IntonationReading& reading) {
    const Analysis& analysis = reading.analysis;
    (Filling{
         database,
         "INSERT INTO reading (visit_id, taken_at, source, tolerance_cents, a4_hz, removed_at) VALUES (?, "
         "?, ?, ?, ?, ?)"}
     << visit << reading.taken_at << reading.source << analysis.tolerance << analysis.a4
     << reading.removed_at)
        .run();
    const std::int64_t id = database.getLastInsertRowid();
    const auto insert_all = [&](const auto& values) {
        for (std::size_t i = 0; i < values.size(); ++i)
            insert(database, id, static_cast<int>(i), values[i]);
    };
    insert_all(analysis.recordings);
    insert_all(analysis.plucks);
    insert_all(analysis.warnings);
    for (const AnalysedString& string : analysis.strings)
        insert(database, id, string);
}

std::vector<IntonationReading> readings_of(SQLite::Database& database, std::int64_t visit) {
    Filling query{database,
                  "SELECT id, taken_at, source, removed_at, tolerance_cents, a4_hz FROM reading WHERE "
                  "visit_id = ? ORDER BY id"};
    query << visit;
    std::vector<IntonationReading> readings;
    while (query.next_row()) {
        Row row{query};
        const auto id = row.take<std::int64_t>();
        readings.push_back(
            {row.take<Moment>(), row.take<ReadingSource>(), Analysis{}, row.take<std::optional<Moment>>()});
        const auto tolerance = row.take<Cents>();
        readings.back().analysis = analysis_of(database, id, tolerance, row.take<Hertz>());
    }
    return readings;
}

std::vector<PastReading> readings_of_string(SQLite::Database& database, std::int64_t instrument, int string) {
    Filling query{database,
                  "SELECT visit.number, visit.day, reading.taken_at, reading.tolerance_cents, "
                  "reading.a4_hz, reading_string.* FROM visit JOIN reading ON reading.visit_id = "
                  "visit.id JOIN reading_string ON reading_string.reading_id = reading.id WHERE "
                  "visit.instrument_id = ? AND reading_string.number = ? AND reading.removed_at IS NULL "
                  "ORDER BY visit.number, "
                  "reading.id"};
    query << instrument << string;
    std::vector<PastReading> readings;
    while (query.next_row()) {
        Row row{query};
        const int visit = row.take<int>();
        auto day = row.take<Day>();
        auto taken_at = row.take<Moment>();
        const auto tolerance = row.take<Cents>();
        const auto a4 = row.take<Hertz>();
        row.skip(1);
        readings.push_back(
            {visit, std::move(day), std::move(taken_at), tolerance, take_analysed_string(row, a4)});
    }
    return readings;
}

}  // namespace midspan
