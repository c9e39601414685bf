// bench_events_test.cpp: every event as a line, as words and as JSON.
#include "midspan/view/bench_events.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

namespace midspan::test {
using namespace midspan::literals;

namespace {

Instrument guitar() {
    const std::vector<Millimetres> length{648.0_mm};
    return make_instrument(standard_tuning, length, 440.0_hz, {0.5_mm, true, {}, {}}).value();
}

StringResult a_result(Verdict verdict) {
    return {5,
            1,
            2,
            {6.4_cents, 0.1_cents},
            verdict,
            {2.4_mm, 0.05_mm},
            {-2.3_turns, 0.1_turns},
            TurnsFrom::thread,
            {}};
}

/// One of each.
std::vector<BenchEvent> events() {
    return {
        {1.0_s, Awaited{5, NoteKind::fretted, false}},
        {2.0_s, RingingReading{5, NoteKind::fretted, 221.0_hz, 0.4_cents, 6.1_cents, 0.3_s}},
        {3.0_s, FinishedNote{5,
                             NoteKind::fretted,
                             1,
                             2,
                             221.0_hz,
                             0.05_cents,
                             6.41_cents,
                             NoteQuality::clear,
                             -20.0_db,
                             {WarningCode::beating}}},
        {4.0_s, RefusedNote{std::nullopt, Refusal::no_pitch, "no string rang"}},
        {5.0_s, TuningHeard{5, -3.14_cents, 0.1_cents, true}},
        {65.0_s, a_result(Verdict::move)},
        {7.0_s, RoundBegan{5, 2}},
        {8.0_s,
         ScrewLearned{5, MoveOutcome::did_not_move, {1.4_cents, 0.1_cents}, 2.0_turns, 6.4_cents, 6.3_cents}},
        {9.0_s, LevelHeard{-3.0_db, InputLevel::too_loud}},
        {10.0_s, SessionEnded{}},
    };
}

std::string line(const BenchEvent& event) { return bench_event_line(event, guitar(), {}); }

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("every event is one JSON object on one line that names schema, event and time") {
        const std::vector<std::string> names{"awaited", "reading", "note",  "refused", "tuning",
                                             "result",  "round",   "screw", "level",   "end"};
        const auto all = events();
        REQUIRE(all.size() == names.size());
        for (std::size_t i = 0; i < all.size(); ++i) {
            const std::string text = bench_event_json(all[i]);
            CHECK(text.find('\n') == text.size() - 1);
            const auto json = nlohmann::json::parse(text);
            CHECK(json["schema"] == "midspan/event/1");
            CHECK(json["event"] == names[i]);
            CHECK(json["at_s"] == all[i].at.value());
        }
        const auto result = nlohmann::json::parse(bench_event_json(all[5]));
        CHECK(result["direction"] == "toward_tail");
        CHECK(result["turns"] == -2.3);
        CHECK(result["turns_from"] == "thread");
        CHECK(result["verdict"] == "move");
        CHECK(nlohmann::json::parse(bench_event_json(all[3]))["string"].is_null());
        CHECK(nlohmann::json::parse(bench_event_json(all[2]))["warnings"][0] == "beating");
    }
    TEST_CASE("a person reads one line an event, in plain words") {
        const auto all = events();
        CHECK(line(all[0]) == " 0:01  Waiting for string 5, A2: fretted 12th\n");
        CHECK(line(all[1]).empty());
        CHECK(
            line(all[2]) ==
            " 0:03  String 5, A2, fretted 12th 2: clear, +6.41 +- 0.10 cents from its harmonic, a note that "
            "beats\n");
        CHECK(line(all[3]) == " 0:04  Refused: no string rang\n");
        CHECK(line(all[4]) == " 0:05  String 5, A2: tune it 3.1 cents up\n");
        CHECK(line(all[5]) ==
              " 1:05  String 5, A2: +6.40 +- 0.20 cents, move 2.4 mm toward the tail, 2 1/4 turns "
              "counter-clockwise\n");
        CHECK(line(all[7]).find("the saddle sticks") != std::string::npos);
        CHECK(line({1.0_s, LevelHeard{-20.0_db, InputLevel::good}}).empty());
        CHECK(line(all[8]) == " 0:09  Input too loud: -3 dB, good is -45 to -6 dB\n");
    }
    TEST_CASE("aloud go results, refusals and next steps, and no symbols") {
        for (const BenchEvent& event : events()) {
            const std::string spoken =
                bench_event_spoken(event, guitar(), {LengthUnit::millimetres, true, false});
            CHECK(spoken.find_first_of("+\xc2") == std::string::npos);
        }
        CHECK(bench_event_spoken({1.0_s, a_result(Verdict::in_tolerance)}, guitar(), {}) ==
              "String 5: good enough.");
        CHECK(bench_event_spoken({1.0_s, a_result(Verdict::move)}, guitar(), {}) ==
              "String 5: 2.4 mm toward the tail, 2 1/4 turns counter-clockwise.");
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("a number that is none becomes null") {
        StringResult result = a_result(Verdict::measure_again);
        result.turns.value = Turns{std::numeric_limits<double>::quiet_NaN()};
        CHECK(nlohmann::json::parse(bench_event_json({1.0_s, result}))["turns"].is_null());
    }
}

}  // namespace midspan::test
