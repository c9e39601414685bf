// bench_table_test.cpp: what a person at the bench reads.
#include "midspan/view/bench_table.hpp"

#include <doctest/doctest.h>

#include <clocale>

#include "view/columns.hpp"
#include "view/hand_made_analysis.hpp"

namespace midspan::test {
namespace {

bool contains(const std::string& text, std::string_view part) { return text.find(part) != std::string::npos; }

/// The longest line, in columns.
std::size_t width(const std::string& text) {
    std::size_t widest = 0;
    for (std::size_t from = 0; from < text.size();) {
        const std::size_t to = std::min(text.find('\n', from), text.size());
        widest = std::max(widest, columns(std::string_view{text}.substr(from, to - from)));
        from = to + 1;
    }
    return widest;
}

/// Twelve strings, all with the longest of everything.
Analysis crowded_analysis() {
    Analysis a;
    a.recordings.push_back({"a.wav", Hertz{44100.0}, 16, 12, true, Seconds{4000.0}});
    for (int number = 1; number <= 12; ++number) {
        AnalysedString s =
            compared_string(number, "F#3", Cents{-99.75}, Cents{0.12}, Millimetres{-37.333}, Verdict::move);
        s.tuning->off = Cents{-249.9};
        s.turns = Turns{-74.625};
        s.string.saddle = {Millimetres{0.5}, true, Millimetres{3.0}, Millimetres{3.0}};
        for (const WarningCode code : all_warning_codes())
            s.warnings.push_back(code);
        a.strings.push_back(s);
    }
    return a;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("every string has a row, string 1 last") {
        const std::string table = bench_table(hand_made_analysis(), {});
        const auto third = table.find("\n 3  G3 ");
        const auto second = table.find("\n 2  B3 ");
        const auto first = table.find("\n 1  E4 ");
        REQUIRE(third != std::string::npos);
        REQUIRE(second != std::string::npos);
        REQUIRE(first != std::string::npos);
        CHECK(third < second);
        CHECK(second < first);
    }

    TEST_CASE("values stand with two standard uncertainties, units and the direction in words") {
        const std::string table = bench_table(hand_made_analysis(), {});
        CHECK(contains(table, "+2.20 +- 0.12"));
        CHECK(contains(table, "0.80 +- 0.04 mm toward the tail"));
        CHECK(contains(table, "take.wav: 1:11 min, 48 kHz, mono\n"));
        CHECK(contains(table, "Scale length 628.65 mm, A4 = 440 Hz, good enough within +- 1.5 cents\n"));
    }

    TEST_CASE("no move is shown where none is advised") {
        Analysis a = hand_made_analysis();
        a.strings[2].verdict = Verdict::measure_again;
        const std::string table = bench_table(a, {});
        CHECK(!contains(table, "toward the"));
        CHECK(contains(table, "good enough"));
        CHECK(contains(table, "measure again"));
    }

    TEST_CASE("a string without a pair keeps its row, with dashes and the reason") {
        CHECK(contains(bench_table(hand_made_analysis(), {}),
                       "\n 1  E4  -       -               measure again  not heard\n"));
    }

    TEST_CASE("an undecided string without a warning says why it is undecided") {
        Analysis a = hand_made_analysis();
        a.strings[1].verdict = Verdict::measure_again;
        CHECK(contains(bench_table(a, {}), "measure again  too near the tolerance to tell\n"));
    }

    TEST_CASE("turns are clockwise or not as the bridge has it, and unsaid when it is not known") {
        Analysis a = hand_made_analysis();
        a.strings[2].turns = Turns{1.6};
        CHECK(!contains(bench_table(a, {}), "clockwise"));
        a.strings[2].string.saddle.clockwise_is_toward_tail = true;
        CHECK(contains(bench_table(a, {}), turns_in_words(Turns{1.6}) + " clockwise\n"));
        a.strings[2].string.saddle.clockwise_is_toward_tail = false;
        CHECK(contains(bench_table(a, {}), turns_in_words(Turns{1.6}) + " counter-clockwise\n"));
        a.strings[2].turns = Turns{-1.6};
        a.strings[2].move->toward_tail = Millimetres{-0.8};
        CHECK(contains(bench_table(a, {}), turns_in_words(Turns{-1.6}) + " clockwise\n"));
    }

    TEST_CASE("travel left is that of the side the saddle moves to, after the move") {
        Analysis a = hand_made_analysis();
        a.strings[2].string.saddle.travel_toward_tail = Millimetres{3.0};
        a.strings[2].string.saddle.travel_toward_nut = Millimetres{1.0};
        CHECK(contains(bench_table(a, {}), "2.2 mm of travel left then\n"));
        a.strings[2].string.saddle.travel_toward_tail = Millimetres{0.5};
        CHECK(contains(bench_table(a, {}), "0.3 mm more than its travel\n"));
        a.strings[2].string.saddle.travel_toward_tail.reset();
        CHECK(!contains(bench_table(a, {}), "travel"));
    }

    TEST_CASE("in inches a move is also given to the nearest 64th") {
        const std::string table = bench_table(hand_made_analysis(), {LengthUnit::inches, false, false});
        CHECK(contains(table, "0.031 +- 0.002 in toward the tail"));
        CHECK(contains(table, "about 2/64 in"));
        CHECK(contains(table, "Scale length 24.75 in"));
        CHECK(!contains(table, " mm"));
    }

    TEST_CASE("a multi-scale instrument shows its shortest and longest scale") {
        Analysis a = hand_made_analysis();
        a.strings[2].string.scale_length = Millimetres{660.4};
        CHECK(contains(bench_table(a, {}), "Scale lengths 628.65 mm to 660.4 mm"));
    }

    TEST_CASE("the channel is stated and who chose it") {
        Analysis a = hand_made_analysis();
        a.recordings[0].channels = 2;
        a.recordings[0].channel_used = 2;
        CHECK(contains(bench_table(a, {}), "channel 2 of 2, chosen by its signal\n"));
        a.recordings[0].channel_chosen_by_user = true;
        CHECK(contains(bench_table(a, {}), "channel 2 of 2, as asked for\n"));
    }

    TEST_CASE("the table fits 80 columns, whatever is in it") {
        for (const LengthUnit unit : {LengthUnit::millimetres, LengthUnit::inches}) {
            for (const bool utf8 : {false, true}) {
                CHECK(width(bench_table(crowded_analysis(), {unit, utf8, false})) <= 80);
                CHECK(width(bench_table(hand_made_analysis(), {unit, utf8, false})) <= 80);
            }
        }
    }

    TEST_CASE("the table is plain ASCII without escapes unless more is asked for") {
        for (const char c : bench_table(crowded_analysis(), {})) {
            CHECK((c == '\n' || (c >= ' ' && c <= '~')));
        }
        CHECK(contains(bench_table(hand_made_analysis(), {LengthUnit::millimetres, true, false}), "±"));
        CHECK(contains(bench_table(hand_made_analysis(), {LengthUnit::millimetres, false, true}),
                       "\x1b[1mmove"));
    }

    TEST_CASE("the table is the same in every locale") {
        const std::string before = bench_table(hand_made_analysis(), {});
        for (const char* name : {"de_DE.UTF-8", "fr_FR.UTF-8", "C.UTF-8"}) {
            std::setlocale(LC_ALL, name);
            CHECK(bench_table(hand_made_analysis(), {}) == before);
        }
        std::setlocale(LC_ALL, "C");
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("a file name cannot play with the terminal") {
        Analysis a = hand_made_analysis();
        a.recordings[0].path = "take\x1b[2J.wav";
        CHECK(contains(bench_table(a, {}), "take?[2J.wav: 1:11 min"));
    }
    TEST_CASE("an analysis of nothing makes an empty table") { CHECK(bench_table(Analysis{}, {}).empty()); }
}

}  // namespace midspan::test
