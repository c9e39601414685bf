// bench_notes_test.cpp: no warning is lost, and cautions come only where they matter.
#include "midspan/view/bench_notes.hpp"

#include <doctest/doctest.h>

#include "view/hand_made_analysis.hpp"

namespace midspan::test {
namespace {

std::size_t count(const std::string& text, std::string_view part) {
    std::size_t n = 0;
    for (std::size_t at = text.find(part); at != std::string::npos; at = text.find(part, at + 1))
        ++n;
    return n;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("every warning is there, behind its string and its time") {
        CHECK(bench_warnings(hand_made_analysis(), {}) ==
              "Warnings\n"
              "  - string 1: nothing was heard of this string\n"
              "  - at 0:05: no string rang; pluck it again\n");
    }

    TEST_CASE("what several plucks have in common is said once, with all their places") {
        Analysis a = hand_made_analysis();
        a.warnings.clear();
        for (const double at : {12.4, 19.0, 71.9}) {
            a.warnings.push_back({WarningCode::clipped, Seconds{at}, 3, 0, "too loud"});
        }
        a.warnings.push_back({WarningCode::clipped, Seconds{80.0}, 2, 0, "too loud"});
        CHECK(bench_warnings(a, {}) ==
              "Warnings\n  - string 3 at 0:12, 0:19, 1:11; string 2 at 1:20: too loud\n");
    }

    TEST_CASE("what several strings have in common is said once") {
        Analysis a = hand_made_analysis();
        a.warnings.clear();
        for (const int number : {6, 5}) {
            a.warnings.push_back({WarningCode::no_plucks, {}, number, {}, "nothing of it was heard"});
        }
        CHECK(bench_warnings(a, {}) == "Warnings\n  - strings 6, 5: nothing of it was heard\n");
    }

    TEST_CASE("with several recordings a warning names the one it is about") {
        Analysis a = hand_made_analysis();
        a.recordings.push_back({"second.wav", Hertz{48000.0}, 1, 1, false, Seconds{10.0}});
        a.warnings = {{WarningCode::truncated, {}, {}, 1, "ends early"},
                      {WarningCode::clipped, Seconds{1.0}, 3, 1, "too loud"}};
        CHECK(bench_warnings(a, {}) ==
              "Warnings\n  - second.wav: ends early\n  - string 3 in second.wav at 0:01: too loud\n");
    }

    TEST_CASE("a plus-minus sign in a message is ASCII where the screen is") {
        Analysis a = hand_made_analysis();
        a.warnings = {{WarningCode::uncertain, {}, {}, {}, "0.5 ± 1.5 cents"}};
        CHECK(bench_warnings(a, {}) == "Warnings\n  - 0.5 +- 1.5 cents\n");
        CHECK(bench_warnings(a, {LengthUnit::millimetres, true, false}) == "Warnings\n  - 0.5 ± 1.5 cents\n");
    }

    TEST_CASE("no warnings, no heading") {
        Analysis a = hand_made_analysis();
        a.warnings.clear();
        CHECK(bench_warnings(a, {}).empty());
    }

    TEST_CASE("cautions come with a move and not without one") {
        Analysis a = hand_made_analysis();
        const std::string cautions = bench_cautions(a, {});
        for (const char* word : {"Slacken", "eyes", "screwdriver", "luthier", "measure again"}) {
            CAPTURE(word);
            CHECK(count(cautions, word) == 1);
        }
        a.strings[2].verdict = Verdict::in_tolerance;
        CHECK(bench_cautions(a, {}).empty());
    }

    TEST_CASE("what to do when the travel runs out comes only when it does") {
        Analysis a = hand_made_analysis();
        CHECK(count(bench_cautions(a, {}), "1/16 in") == 0);
        a.strings[2].warnings.push_back(WarningCode::travel_exceeded);
        CHECK(count(bench_cautions(a, {}), "1/16 in") == 1);
    }
}

}  // namespace midspan::test
