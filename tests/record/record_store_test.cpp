// record_store_test.cpp: what was written is read again, all of it.
#include "midspan/record/record_store.hpp"

#include <doctest/doctest.h>

#include <filesystem>

#include "midspan/record/record_names.hpp"
#include "midspan/view/analysis_json.hpp"
#include "record/neck_analysis_text.hpp"
#include "record/sample_record.hpp"
#include "support/temp_folder.hpp"

namespace midspan::test {
namespace {

RecordStore opened(const std::string& path) {
    auto store = RecordStore::open(path);
    REQUIRE_MESSAGE(store.ok(), store.error().problem);
    return std::move(store).value();
}

void check_same(const FittedString& a, const FittedString& b) {
    CHECK(a.gauge == b.gauge);
    CHECK(a.winding == b.winding);
    CHECK(a.core == b.core);
}

void check_same(const std::vector<FittedString>& a, const std::vector<FittedString>& b) {
    REQUIRE(a.size() == b.size());
    for (std::size_t i = 0; i < a.size(); ++i)
        check_same(a[i], b[i]);
}

void check_same(const InstrumentEntry& a, const InstrumentEntry& b) {
    CHECK(a.instrument.name == b.instrument.name);
    CHECK(a.instrument.a4 == b.instrument.a4);
    CHECK(a.instrument.left_handed == b.instrument.left_handed);
    REQUIRE(a.instrument.strings.size() == b.instrument.strings.size());
    for (std::size_t i = 0; i < a.instrument.strings.size(); ++i) {
        const InstrumentString& one = a.instrument.strings[i];
        const InstrumentString& other = b.instrument.strings[i];
        CHECK(one.number == other.number);
        CHECK(one.open_note.text() == other.open_note.text());
        CHECK(one.open_frequency == other.open_frequency);
        CHECK(one.scale_length == other.scale_length);
        CHECK(one.saddle.thread_pitch == other.saddle.thread_pitch);
        CHECK(one.saddle.clockwise_is_toward_tail == other.saddle.clockwise_is_toward_tail);
        CHECK(one.saddle.travel_toward_nut == other.saddle.travel_toward_nut);
        CHECK(one.saddle.travel_toward_tail == other.saddle.travel_toward_tail);
    }
    CHECK(a.kind == b.kind);
    CHECK(a.strings == b.strings);
    check_same(a.fitted, b.fitted);
    CHECK(a.frets == b.frets);
    CHECK(a.fingerboard_radius == b.fingerboard_radius);
    CHECK(a.bridge == b.bridge);
    CHECK(a.notes == b.notes);
    CHECK(a.added_at == b.added_at);
    CHECK(a.deleted_at == b.deleted_at);
}

void check_same(const BenchMeasurement& a, const BenchMeasurement& b) {
    CHECK(a.taken_at == b.taken_at);
    CHECK(a.quantity == b.quantity);
    CHECK(a.value == b.value);
    CHECK(a.as_typed == b.as_typed);
    CHECK(a.string == b.string);
    CHECK(a.method == b.method);
    CHECK(a.note == b.note);
}

/// The JSON of an analysis has every number of it in full precision, save those of the plucks' fits.
void check_same(const IntonationReading& a, const IntonationReading& b) {
    CHECK(a.taken_at == b.taken_at);
    CHECK(a.source == b.source);
    CHECK(analysis_json(a.analysis) == analysis_json(b.analysis));
    REQUIRE(a.analysis.strings.size() == b.analysis.strings.size());
    for (std::size_t i = 0; i < a.analysis.strings.size(); ++i) {
        const auto& one = a.analysis.strings[i].comparison;
        const auto& other = b.analysis.strings[i].comparison;
        REQUIRE(one.has_value() == other.has_value());
        if (!one) continue;
        CHECK(one->harmonic.uncertainty == other->harmonic.uncertainty);
        CHECK(one->fretted.uncertainty == other->fretted.uncertainty);
        CHECK(one->scatter == other->scatter);
        CHECK(one->scattered == other->scattered);
    }
    REQUIRE(a.analysis.plucks.size() == b.analysis.plucks.size());
    for (std::size_t i = 0; i < a.analysis.plucks.size(); ++i) {
        const auto& one = a.analysis.plucks[i].reading;
        const auto& other = b.analysis.plucks[i].reading;
        REQUIRE(one.has_value() == other.has_value());
        if (!one) continue;
        CHECK(one->frequency == other->frequency);
        CHECK(one->uncertainty == other->uncertainty);
        CHECK(one->inharmonicity == other->inharmonicity);
        CHECK(one->inharmonicity_uncertainty == other->inharmonicity_uncertainty);
        CHECK(one->glide == other->glide);
        CHECK(one->glide_time == other->glide_time);
        CHECK(one->partials == other->partials);
        CHECK(one->span == other->span);
        CHECK(one->signal_to_noise == other->signal_to_noise);
        CHECK(one->odd_partials == other->odd_partials);
        CHECK(one->odd_partials_floor == other->odd_partials_floor);
        CHECK(one->not_settled == other->not_settled);
        CHECK(one->beating == other->beating);
        CHECK(one->string_suspect == other->string_suspect);
    }
}

void check_same(const Visit& a, const Visit& b) {
    CHECK(a.number == b.number);
    CHECK(a.day == b.day);
    CHECK(a.begun_at == b.begun_at);
    CHECK(a.ended_at == b.ended_at);
    CHECK(a.who == b.who);
    CHECK(a.strings == b.strings);
    check_same(a.fitted, b.fitted);
    CHECK(a.strings_fitted_on == b.strings_fitted_on);
    CHECK(a.temperature == b.temperature);
    CHECK(a.humidity == b.humidity);
    CHECK(a.work_done == b.work_done);
    CHECK(a.notes == b.notes);
    REQUIRE(a.measurements.size() == b.measurements.size());
    for (std::size_t i = 0; i < a.measurements.size(); ++i)
        check_same(a.measurements[i], b.measurements[i]);
    REQUIRE(a.readings.size() == b.readings.size());
    for (std::size_t i = 0; i < a.readings.size(); ++i)
        check_same(a.readings[i], b.readings[i]);
    REQUIRE(a.surveys.size() == b.surveys.size());
    for (std::size_t i = 0; i < a.surveys.size(); ++i) {
        CHECK(a.surveys[i].taken_at == b.surveys[i].taken_at);
        CHECK(a.surveys[i].source == b.surveys[i].source);
        CHECK(neck_analysis_text(a.surveys[i].analysis) == neck_analysis_text(b.surveys[i].analysis));
    }
    REQUIRE(a.moves.size() == b.moves.size());
    for (std::size_t i = 0; i < a.moves.size(); ++i) {
        CHECK(a.moves[i].made_at == b.moves[i].made_at);
        CHECK(a.moves[i].string == b.moves[i].string);
        CHECK(a.moves[i].toward_tail == b.moves[i].toward_tail);
        CHECK(a.moves[i].turns == b.moves[i].turns);
        CHECK(a.moves[i].note == b.moves[i].note);
    }
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("everything written into the record is read out of it again, by another program") {
        const TempFolder folder;
        const std::string path = folder.file("new/record.sqlite");
        const InstrumentEntry entry = sample_entry("Bench guitar");
        Visit visit = sample_visit();
        {
            RecordStore store = opened(path);
            CHECK(!store.add(entry));
            CHECK(store.begin_visit("Bench guitar", visit).value() == 1);
            CHECK(store.open_visit("Bench guitar").value() == 1);
            CHECK(!store.add("Bench guitar", 1, sample_measurement()));
            CHECK(!store.add("Bench guitar", 1, BenchWork{{sample_reading()}}));
            CHECK(!store.add("Bench guitar", 1, sample_survey()));
            CHECK(!store.add("Bench guitar", 1, sample_move()));
        }
        RecordStore store = opened(path);
        check_same(store.instrument("Bench guitar").value(), entry);
        visit.number = 1;
        visit.measurements = {sample_measurement()};
        visit.readings = {sample_reading()};
        visit.surveys = {sample_survey()};
        visit.moves = {sample_move()};
        check_same(store.visit("Bench guitar", 1).value(), visit);

        visit.work_done = "setup";
        visit.ended_at = "2026-03-14T11:00:00Z";
        CHECK(!store.change_visit("Bench guitar", visit));
        check_same(store.visit("Bench guitar", 1).value(), visit);
        CHECK(!store.open_visit("Bench guitar").value());
    }

    TEST_CASE("a whole record taken in by an empty one is the same record") {
        const TempFolder folder;
        RecordStore store = opened(folder.file("one.sqlite"));
        for (const char* name : {"first", "second", "gone"}) {
            CHECK(!store.add(sample_entry(name)));
            CHECK(store.begin_visit(name, sample_visit()).ok());
            CHECK(!store.add(name, 1, BenchWork{{sample_reading()}}));
            CHECK(!store.add(name, 1,
                             BenchWork{.screws = {{6, CentsPerTurn{1.25}, CentsPerTurn{0.0625}, 3,
                                                   "2026-03-14T09:40:00Z"}}}));
            CHECK(!store.add(name, 1, sample_survey()));
        }
        CHECK(!store.remove("gone", "2026-03-15T08:00:00Z"));
        const SetupRecord record = store.whole().value();
        REQUIRE(record.instruments.size() == 3);

        RecordStore other = opened(folder.file("two.sqlite"));
        CHECK(!other.take_in(record));
        const SetupRecord again = other.whole().value();
        REQUIRE(again.instruments.size() == 3);
        for (std::size_t i = 0; i < 3; ++i) {
            check_same(again.instruments[i].entry, record.instruments[i].entry);
            REQUIRE(again.instruments[i].visits.size() == 1);
            check_same(again.instruments[i].visits[0], record.instruments[i].visits[0]);
            REQUIRE(again.instruments[i].screws.size() == 1);
            CHECK(again.instruments[i].screws[0].cents_per_turn == CentsPerTurn{1.25});
        }
        CHECK(again.instruments[2].entry.deleted_at == "2026-03-15T08:00:00Z");
        // Taken in a second time it would stand there twice; nothing of it may stay.
        CHECK(other.take_in(record)->fault == Fault::usage);
        CHECK(other.whole().value().instruments.size() == 3);
    }

    TEST_CASE("a deleted instrument is in no list, and can be restored with all its visits") {
        const TempFolder folder;
        RecordStore store = opened(folder.file("record.sqlite"));
        CHECK(!store.add(sample_entry("old")));
        CHECK(store.begin_visit("old", sample_visit()).ok());
        CHECK(!store.remove("old", "2026-03-15T08:00:00Z"));
        CHECK(store.instruments().value().empty());
        CHECK(store.instrument("old").error().fault == Fault::usage);
        REQUIRE(store.deleted_instruments().value().size() == 1);
        CHECK(!store.restore("old"));
        REQUIRE(store.instruments().value().size() == 1);
        CHECK(store.instruments().value()[0].visits == 1);
        CHECK(store.instruments().value()[0].open_visit == 1);
        CHECK(store.instruments().value()[0].last_visit == "2026-03-14");
    }

    TEST_CASE("a name can be given again after its instrument was deleted, and is then in the way") {
        const TempFolder folder;
        RecordStore store = opened(folder.file("record.sqlite"));
        CHECK(!store.add(sample_entry("one")));
        CHECK(!store.remove("one", "2026-03-15T08:00:00Z"));
        CHECK(!store.add(sample_entry("one")));
        CHECK(store.restore("one")->fault == Fault::usage);
        InstrumentEntry renamed = store.instrument("one").value();
        renamed.instrument.name = "two";
        renamed.instrument.strings.pop_back();
        CHECK(!store.change("one", renamed));
        CHECK(!store.restore("one"));
        CHECK(store.instruments().value().size() == 2);
        check_same(store.instrument("two").value(), renamed);
    }

    TEST_CASE("the history of a string goes through all visits, the first one first") {
        const TempFolder folder;
        RecordStore store = opened(folder.file("record.sqlite"));
        CHECK(!store.add(sample_entry("guitar")));
        for (const int number : {1, 2}) {
            CHECK(store.begin_visit("guitar", sample_visit()).value() == number);
            CHECK(!store.add("guitar", number, BenchWork{{sample_reading()}}));
            CHECK(!store.add("guitar", number, BenchWork{{sample_reading()}}));
            Visit visit = store.visit("guitar", number).value();
            visit.ended_at = "2026-03-14T11:00:00Z";
            CHECK(!store.change_visit("guitar", visit));
        }
        const auto history = store.history("guitar", 6).value();
        REQUIRE(history.size() == 4);
        CHECK(history[0].visit == 1);
        CHECK(history[3].visit == 2);
        CHECK(history[3].tolerance == Cents{1.0});
        CHECK(history[3].string.comparison->error.value == Cents{2.625});
        CHECK(history[3].string.verdict == Verdict::move);
        CHECK(!store.history("guitar", 1).value()[0].string.comparison);
    }

    TEST_CASE("what a screw was learned to do is replaced by what is learned later") {
        const TempFolder folder;
        RecordStore store = opened(folder.file("record.sqlite"));
        CHECK(!store.add(sample_entry("guitar")));
        CHECK(store.begin_visit("guitar", sample_visit()).ok());
        CHECK(!store.add(
            "guitar", 1,
            BenchWork{.screws = {{5, CentsPerTurn{1.0}, CentsPerTurn{0.5}, 1, "2026-03-14T09:40:00Z"}}}));
        CHECK(!store.add(
            "guitar", 1,
            BenchWork{.screws = {{5, CentsPerTurn{1.5}, CentsPerTurn{0.25}, 2, "2026-03-14T09:50:00Z"}}}));
        const auto screws = store.learned_screws("guitar").value();
        REQUIRE(screws.size() == 1);
        CHECK(screws[0].string == 5);
        CHECK(screws[0].cents_per_turn == CentsPerTurn{1.5});
        CHECK(screws[0].uncertainty == CentsPerTurn{0.25});
        CHECK(screws[0].moves == 2);
        // It is forgotten with the screw.
        InstrumentEntry entry = store.instrument("guitar").value();
        entry.notes = "the same bridge";
        CHECK(!store.change("guitar", entry));
        CHECK(store.learned_screws("guitar").value().size() == 1);
        entry.instrument.strings[4].saddle.thread_pitch = Millimetres{0.7};
        CHECK(!store.change("guitar", entry));
        CHECK(store.learned_screws("guitar").value().empty());
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("an instrument or a visit that is not in the record is a usage fault, and nothing is written") {
        const TempFolder folder;
        RecordStore store = opened(folder.file("record.sqlite"));
        CHECK(store.instrument("nobody").error().fault == Fault::usage);
        CHECK(store.visits("nobody").error().fault == Fault::usage);
        CHECK(store.remove("nobody", "2026-03-15T08:00:00Z")->fault == Fault::usage);
        CHECK(store.restore("nobody")->fault == Fault::usage);
        CHECK(!store.add(sample_entry("guitar")));
        CHECK(store.add(sample_entry("guitar"))->fault == Fault::usage);
        CHECK(store.visit("guitar", 1).error().fault == Fault::usage);
        CHECK(store.add("guitar", 1, sample_measurement())->fault == Fault::usage);
        CHECK(store.begin_visit("guitar", sample_visit()).ok());
        CHECK(store.begin_visit("guitar", sample_visit()).error().problem == "visit 1 is still open");
    }

    TEST_CASE("a name of quotes, blanks and semicolons is only a name") {
        const TempFolder folder;
        RecordStore store = opened(folder.file("record.sqlite"));
        const std::string name = "'; DROP TABLE visit; -- \"<script>";
        CHECK(!store.add(sample_entry(name)));
        CHECK(store.begin_visit(name, sample_visit()).ok());
        CHECK(store.instruments().value()[0].entry.instrument.name == name);
    }
}

}  // namespace midspan::test
