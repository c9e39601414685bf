// record_text_test.cpp: what is exported is all there is, and others can read it.
#include "midspan/record/record_text.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <vector>

#include "record/random_record.hpp"
#include "record/sample_record.hpp"
#include "support/by_python.hpp"
#include "support/trials.hpp"
#include "view/hand_made_visit.hpp"

namespace midspan::test {
namespace {

using Table = std::vector<std::vector<std::string>>;

/// The table as another program's CSV reader sees it.
Table read_csv(const std::string& text) {
    return nlohmann::json::parse(
               said_by_python("import csv, json, sys\n"
                              "with open(sys.argv[1], newline='', encoding='utf-8') as file:\n"
                              "    print(json.dumps(list(csv.reader(file, strict=True))))\n",
                              text))
        .get<Table>();
}

SetupRecord filled_record() {
    RandomNumbers random{7};
    for (;;) {
        SetupRecord record = random_record(random);
        const bool full = std::ranges::any_of(record.instruments, [](const InstrumentRecord& one) {
            return !one.entry.deleted_at && !one.screws.empty() &&
                   std::ranges::any_of(one.visits, [](const Visit& v) {
                       return !v.measurements.empty() && !v.moves.empty() && !v.fitted.empty() &&
                              std::ranges::any_of(v.readings, [](const IntonationReading& r) {
                                  return !r.analysis.plucks.empty() && !r.analysis.warnings.empty();
                              });
                   });
        });
        if (full) return record;
    }
}

/// The error of reading `text`.
Error refusal(const std::string& text) {
    const auto record = parse_record(text, "shop.json");
    REQUIRE_FALSE(record.ok());
    CHECK(record.error().fault == Fault::input);
    CHECK(record.error().subject == "shop.json");
    CHECK_FALSE(record.error().remedy.empty());
    return record.error();
}

/// The refusal of a good record after one of its values was exchanged.
std::string problem_with(const std::string& pointer, const nlohmann::ordered_json& value) {
    auto json = nlohmann::ordered_json::parse(record_json(filled_record()));
    for (auto& instrument : json["instruments"]) {
        if (!instrument["visits"].empty() && instrument["deleted_at"].is_null()) {
            instrument[nlohmann::ordered_json::json_pointer{pointer}] = value;
            break;
        }
    }
    return refusal(json.dump()).problem;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("what was exported comes back as it was, to the last bit of every number") {
        RandomNumbers random{1};
        for (int trial = 0; trial < trials(300); ++trial) {
            CAPTURE(trial);
            const std::string text = record_json(random_record(random));
            const auto back = parse_record(text, "shop.json");
            REQUIRE_MESSAGE(back.ok(), back.error().problem);
            CHECK((record_json(back.value()) == text));
        }
    }

    TEST_CASE("hard numbers and texts come back by value") {
        SetupRecord record = filled_record();
        Visit& visit = record.instruments.front().visits.emplace_back(Visit{
            99, "2026-03-14", "2026-03-14T09:26:53Z", {}, "", "", {}, {}, {}, {}, "", "", {}, {}, {}, {}});
        for (const double value : {0.1, -0.0, 5e-324, 1.7976931348623157e308, 1.0 / 3.0}) {
            for (const std::string& text : hard_texts()) {
                visit.measurements = {
                    {visit.begun_at, BenchQuantity::relief, Millimetres{value}, text, {}, {}, text}};
                const auto back = parse_record(record_json(record), "shop.json");
                REQUIRE(back.ok());
                const BenchMeasurement& m =
                    back.value().instruments.front().visits.back().measurements.front();
                CHECK(m.value.value() == value);
                CHECK(std::signbit(m.value.value()) == std::signbit(value));
                CHECK(m.as_typed == text);
                CHECK(m.note == text);
            }
        }
    }

    TEST_CASE("an exported record is what its schema describes") {
        CHECK(against_schema("record-1", record_json(SetupRecord{})) == "");
        RandomNumbers random{2};
        SetupRecord all = filled_record();
        for (int trial = 0; trial < 20; ++trial) {
            for (InstrumentRecord& one : random_record(random).instruments)
                all.instruments.push_back(std::move(one));
        }
        CHECK(against_schema("record-1", record_json(all)) == "");
    }

    TEST_CASE("the example that ships is the record it shows") {
        SetupRecord record;
        record.instruments.push_back({hand_made_entry(), {}, {hand_made_visit()}});
        std::ifstream file{MIDSPAN_SCHEMAS "/example-record.json"};
        const std::string example{std::istreambuf_iterator<char>{file}, {}};
        CHECK((example == record_json(record)));
    }

    TEST_CASE("the schema knows a record from none") {
        auto json = nlohmann::json::parse(record_json(filled_record()));
        json["instruments"][0]["kind"] = "kazoo";
        CHECK(against_schema("record-1", json.dump()) != "");
        json = nlohmann::json::parse(record_json(filled_record()));
        json["instruments"][0]["colour"] = "red";
        CHECK(against_schema("record-1", json.dump()) != "");
        json = nlohmann::json::parse(record_json(filled_record()));
        json["instruments"][0].erase("notes");
        CHECK(against_schema("record-1", json.dump()) != "");
    }

    TEST_CASE("another program reads the tables field by field") {
        SetupRecord record;
        RandomNumbers random{3};
        for (int trial = 0; trial < 20; ++trial) {
            for (InstrumentRecord& one : random_record(random).instruments)
                record.instruments.push_back(std::move(one));
        }
        Table expected;
        std::size_t strings = 0;
        std::size_t notes = 0;
        for (const InstrumentRecord& one : record.instruments) {
            if (one.entry.deleted_at) continue;
            for (const Visit& whole : one.visits) {
                const Visit v = as_it_stands(whole);
                for (const BenchMeasurement& m : v.measurements)
                    expected.push_back({one.entry.instrument.name, m.as_typed, m.method.tool, m.note});
                for (const IntonationReading& r : v.readings)
                    strings += r.analysis.strings.size();
                for (const NeckReading& s : v.surveys)
                    notes += s.analysis.neck.notes.size();
            }
        }
        const Table measurements = read_csv(measurements_csv(record));
        REQUIRE(measurements.size() == expected.size() + 1);
        const std::vector<std::string>& names = measurements.front();
        const auto column = [&names](std::string_view name) {
            return static_cast<std::size_t>(std::ranges::find(names, name) - names.begin());
        };
        for (std::size_t i = 0; i < expected.size(); ++i) {
            const auto& row = measurements[i + 1];
            REQUIRE(row.size() == names.size());
            CHECK(std::vector<std::string>{row[column("instrument")], row[column("as_typed")],
                                           row[column("tool")], row[column("note")]} == expected[i]);
        }
        const Table readings = read_csv(readings_csv(record));
        CHECK(readings.size() == strings + 1);
        for (const auto& row : readings)
            CHECK(row.size() == readings.front().size());
        REQUIRE(notes > 0);
        const Table surveys = read_csv(surveys_csv(record));
        CHECK(surveys.size() == notes + 1);
        for (const auto& row : surveys)
            CHECK(row.size() == surveys.front().size());
    }

    TEST_CASE("numbers in the tables are whole") {
        SetupRecord record = filled_record();
        for (InstrumentRecord& one : record.instruments) {
            for (Visit& v : one.visits) {
                for (BenchMeasurement& m : v.measurements)
                    m.value = Millimetres{1.0 / 3.0};
            }
        }
        const Table table = read_csv(measurements_csv(record));
        REQUIRE(table.size() > 1);
        CHECK(table.front()[6] == "value_mm");
        CHECK(std::stod(table[1][6]) == 1.0 / 3.0);
    }
}

TEST_SUITE("published") {
    // RFC 4180 (Shafranovich 2005), section 2, rules 1, 5, 6 and 7.
    TEST_CASE(
        "RFC 4180: CR LF ends a line, fields with commas, quotes or line ends are quoted, quotes doubled") {
        SetupRecord record;
        InstrumentRecord& one = record.instruments.emplace_back(blank(Type<InstrumentRecord>{}));
        one.entry.instrument.name = "say \"hi\", twice";
        one.visits.push_back(
            {1, "2026-03-14", "2026-03-14T09:26:53Z", {}, "", "", {}, {}, {}, {}, "", "", {}, {}, {}, {}});
        one.visits[0].measurements.push_back({"2026-03-14T09:30:00Z",
                                              BenchQuantity::action,
                                              Millimetres{1.6},
                                              "1.6",
                                              6,
                                              {{1, 3}, true, {}, 12, "", "ruler"},
                                              "two\nlines"});
        CHECK(measurements_csv(record) ==
              "instrument,visit,day,taken_at,quantity,string,value_mm,as_typed,held,last_fret_held,capo,read_"
              "at,pickup,"
              "tool,note\r\n\"say \"\"hi\"\", twice\",1,2026-03-14,2026-03-14T09:30:00Z,action,6,1.6,1.6,1 "
              "3,true,,12,,"
              "ruler,\"two\nlines\"\r\n");
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("what is no record is refused by name, and told where it goes wrong") {
        CHECK(refusal("").problem.starts_with("is no JSON"));
        CHECK(refusal("{\"schema\": ").problem.starts_with("is no JSON"));
        CHECK(refusal("[1, 2]").problem == "no setup record");
        CHECK(refusal("{}").problem == "says no schema, so it is no setup record");
        CHECK(refusal("{\"schema\": \"midspan/record/2\", \"instruments\": []}").problem ==
              "has the schema midspan/record/2, and this midspan reads midspan/record/1");
        CHECK(refusal("{\"schema\": \"midspan/record/1\"}").problem == "record: no instruments");
        CHECK(refusal("{\"schema\": \"midspan/record/1\", \"instruments\": 5}").problem ==
              "record.instruments: no list");
        CHECK(refusal("{\"schema\": \"midspan/record/1\", \"instruments\": [], \"more\": 1}").problem ==
              "record: more is not known");
        CHECK(refusal("{\"schema\": \"midspan/record/1\", \"instruments\": [1e999]}").problem ==
              "holds a number that is too large");
    }

    TEST_CASE("a value of the wrong kind, out of range or impossible is refused with its place") {
        const auto says = [](const std::string& problem, std::string_view what) {
            return problem.find(what) != std::string::npos;
        };
        CHECK(says(problem_with("/kind", "kazoo"), ".kind: none of the words"));
        CHECK(says(problem_with("/frets", 22.5), ".frets: no whole number"));
        CHECK(says(problem_with("/frets", 99999999999), ".frets: no whole number"));
        CHECK(says(problem_with("/frets", 37), "frets outside 0 to 36"));
        CHECK(says(problem_with("/left_handed", "yes"), ".left_handed: neither true nor false"));
        CHECK(says(problem_with("/strings/0/open_note", "H2"), ".open_note: no note"));
        CHECK(says(problem_with("/strings/0/string", 2), "not numbered 1, 2, 3"));
        CHECK(says(problem_with("/strings/0/scale_length_mm", 25.5), "scale_length_mm outside 200 to 1500"));
        CHECK(says(problem_with("/strings", nlohmann::ordered_json::array()), "has not 1 to 12 strings"));
        CHECK(says(problem_with("/name", ""), "has no name"));
        CHECK(says(problem_with("/added_at", "yesterday"), "added_at is no moment"));
        CHECK(says(problem_with("/visits/0/day", "2025-02-29"), "day is no day"));
        CHECK(says(problem_with("/visits/0/humidity_percent", 101), "humidity_percent outside 0 to 100"));
        CHECK(says(problem_with("/visits/0/number", 0), "visits are not numbered upward"));
    }

    TEST_CASE("a survey of places that are not on its neck is refused") {
        const auto problem = [](const auto& spoil) {
            NeckReading survey = sample_survey();
            spoil(survey.analysis);
            InstrumentRecord one{sample_entry("guitar"), {}, {sample_visit()}};
            one.visits[0].number = 1;
            one.visits[0].surveys = {survey};
            return refusal(record_json({{one}})).problem;
        };
        const auto says = [](const std::string& text, std::string_view what) {
            return text.find(what) != std::string::npos;
        };
        CHECK(says(problem([](NeckAnalysis& a) { a.plucks[0].recording = 1; }), "a pluck of no recording"));
        CHECK(says(problem([](NeckAnalysis& a) { a.neck.notes[0].string = 7; }), "string outside 1 to 6"));
        CHECK(says(problem([](NeckAnalysis& a) { a.neck.bent[0].fret = 0; }), "fret outside 1 to 36"));
        CHECK(says(problem([](NeckAnalysis& a) { a.neck.findings[0].cause.fret.reset(); }),
                   "named by no number"));
        CHECK(says(problem([](NeckAnalysis& a) {
                       a.neck.findings[0].cause = {NeckCause::saddle, {}, {}};
                   }),
                   "a saddle of no string"));
        CHECK(
            says(problem([](NeckAnalysis& a) { a.instrument.strings.clear(); }), "has not 1 to 12 strings"));
        CHECK(says(problem([](NeckAnalysis& a) {
                       a.options.stated.strings.resize(2, {1, {}, {}, {}});
                   }),
                   "judged_by"));
        CHECK(says(problem([](NeckAnalysis& a) { a.options.capo = 22; }), "capo outside"));
    }

    TEST_CASE("two instruments of one name cannot be told apart") {
        SetupRecord record = filled_record();
        record.instruments.resize(1, blank(Type<InstrumentRecord>{}));
        record.instruments[0].entry.deleted_at.reset();
        record.instruments.push_back(record.instruments[0]);
        CHECK(refusal(record_json(record)).problem.find("stands there twice") != std::string::npos);
        record.instruments[0].entry.deleted_at = "2026-03-14T09:26:53Z";
        CHECK(parse_record(record_json(record), "shop.json").ok());
    }

    TEST_CASE("a damaged file is refused or read, and never more") {
        const std::string good = record_json(filled_record());
        RandomNumbers random{4};
        for (int trial = 0; trial < trials(300); ++trial) {
            std::string bad = good;
            const auto at = static_cast<std::size_t>(random.uniform() * static_cast<double>(bad.size()));
            if (trial % 2 == 0) bad.resize(at);
            if (trial % 2 == 1)
                bad[at] = static_cast<char>(static_cast<unsigned char>(random.uniform(0.0, 256.0)));
            const auto record = parse_record(bad, "shop.json");
            if (!record.ok()) CHECK(record.error().fault == Fault::input);
        }
    }
}

}  // namespace midspan::test
