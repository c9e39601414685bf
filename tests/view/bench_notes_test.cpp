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
    TEST_CASE("every warning is there, with its string and its time") {
        CHECK(bench_warnings(hand_made_analysis(), {}) ==
              "Warnings\n"
              "  - nothing was heard of this string (string 1)\n"
              "  - no string rang; pluck it again (at 0:05)\n");
    }

    TEST_CASE("what several plucks have in common is said once, with all their places") {
        Analysis a = hand_made_analysis();
        a.warnings.clear();
        for (const double at : {12.4, 19.0, 71.9}) {
            a.warnings.push_back({WarningCode::clipped, Seconds{at}, 3, 0, "too loud"});
        }
        CHECK(bench_warnings(a, {}) ==
              "Warnings\n  - too loud (string 3, at 0:12; string 3, at 0:19; string 3, at 1:11)\n");
    }

    TEST_CASE("with several recordings a warning names the one it is about") {
        Analysis a = hand_made_analysis();
        a.recordings.push_back({"second.wav", Hertz{48000.0}, 1, 1, false, Seconds{10.0}});
        a.warnings = {{WarningCode::truncated, {}, {}, 1, "ends early"}};
        CHECK(bench_warnings(a, {}) == "Warnings\n  - ends early (second.wav)\n");
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
}

}  // namespace midspan::test
