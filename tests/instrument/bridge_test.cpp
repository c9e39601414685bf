// bridge_test.cpp: screw threads.
#include "midspan/instrument/bridge.hpp"

#include <doctest/doctest.h>

#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

TEST_SUITE("published") {
    // ISO 261 / ISO 724, coarse pitches, as secondary tables give them.
    TEST_CASE("ISO 261: M2 0.4, M2.5 0.45, M3 0.5, M4 0.7 mm") {
        CHECK(within(parse_thread_pitch("M2").value(), 0.40_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch("M2.5").value(), 0.45_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch("M3").value(), 0.50_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch("m4").value(), 0.70_mm, 1e-12_mm));
    }
    // ASME B1.1, as secondary tables give it: 4-40 and 5-40 UNC have 40 threads an inch, 6-32 and 8-32 UNC
    // and 10-32 UNF have 32.
    TEST_CASE("ASME B1.1: 4-40 and 5-40 are 0.635 mm, 6-32, 8-32 and 10-32 are 0.79375 mm") {
        CHECK(within(parse_thread_pitch("4-40").value(), 0.635_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch("#5-40").value(), 0.635_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch("6-32").value(), 0.79375_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch("#8-32").value(), 0.79375_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch(" 10-32 ").value(), 0.79375_mm, 1e-12_mm));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("any other pitch is a length") {
        CHECK(within(parse_thread_pitch("0.6").value(), 0.6_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch("0.6mm").value(), 0.6_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch("0.02in").value(), 0.508_mm, 1e-12_mm));
        CHECK(within(parse_thread_pitch("1/40 in").value(), 0.635_mm, 1e-12_mm));
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("a thread nobody knows is refused with the names there are") {
        for (const std::string_view text : {"", "M", "M7", "4-41", "##4-40", "M3x", "0", "-0.5", "40", "0.05",
                                            "2.1", "nan", "inf", "M 3", "4/40"}) {
            CAPTURE(text);
            const auto pitch = parse_thread_pitch(text);
            REQUIRE(!pitch.ok());
            CHECK(pitch.error().fault == Fault::usage);
            CHECK(pitch.error().remedy.find("M2.5") != std::string::npos);
        }
    }
}

}  // namespace midspan::test
