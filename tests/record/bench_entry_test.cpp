// bench_entry_test.cpp: gauges, frets and days as they are typed, and slips of the decimal point.
#include "midspan/record/bench_entry.hpp"

#include <doctest/doctest.h>

#include "support/within.hpp"

namespace midspan::test {

using namespace literals;

TEST_SUITE("properties") {
    TEST_CASE("a set of gauges is read as packets list it, string 1 first") {
        const auto set = parse_gauges("10, .013, 0.017in, 26w, 0.91mm w, 46w/18").value();
        REQUIRE(set.size() == 6);
        CHECK(within(*set[0].gauge, 0.254_mm, 1e-9_mm));
        CHECK(!set[0].winding);
        CHECK(within(*set[1].gauge, 0.3302_mm, 1e-9_mm));
        CHECK(within(*set[2].gauge, 0.4318_mm, 1e-9_mm));
        CHECK(set[3].winding == Winding::wound);
        CHECK(!set[3].core);
        CHECK(within(*set[4].gauge, 0.91_mm, 1e-9_mm));
        CHECK(within(*set[5].gauge, 1.1684_mm, 1e-9_mm));
        CHECK(within(*set[5].core, 0.4572_mm, 1e-9_mm));
        CHECK(parse_gauges("10p,?").value()[0].winding == Winding::plain);
        CHECK(!parse_gauges("10p,?").value()[1].gauge);
    }

    TEST_CASE("frets held come in order, the last by its name") {
        const auto held = parse_held("last,1").value();
        CHECK(held.frets == std::vector<int>{1});
        CHECK(held.last);
        CHECK(parse_held("3").value().frets == std::vector<int>{3});
    }

    TEST_CASE("a slipped decimal is asked about in the unit it was typed in") {
        CHECK(question_about(BenchQuantity::relief, 1.27_mm, "0.05in") == "usual is 0.002 to 0.020 in");
        CHECK(question_about(BenchQuantity::relief, 2.5_mm, "2.5") == "usual is 0.05 to 0.5 mm");
        CHECK(question_about(BenchQuantity::action, 16.0_mm, "16").has_value());
        CHECK(question_about(BenchQuantity::pickup_height, 0.24_mm, "0.24mm").has_value());
    }

    TEST_CASE("what is common at the bench is not asked about") {
        for (const double inch : {0.002, 0.005, 0.008, 0.010, 0.012, 0.020}) {
            CHECK(!question_about(BenchQuantity::relief, inch * millimetres_per_inch, "in"));
        }
        CHECK(!question_about(BenchQuantity::relief, 0.0_mm, "0"));
        for (const double sixty_fourths : {3.0, 4.0, 5.0, 6.0, 10.0}) {
            CHECK(
                !question_about(BenchQuantity::action, (sixty_fourths / 64.0) * millimetres_per_inch, "in"));
        }
        CHECK(!question_about(BenchQuantity::nut_height, 0.5_mm, "0.5"));
        CHECK(!question_about(BenchQuantity::nut_height, 0.127_mm, "0.005in"));
        CHECK(!question_about(BenchQuantity::fret_height, 1.1_mm, "1.1"));
        CHECK(!question_about(BenchQuantity::pickup_height, 2.4_mm, "3/32in"));
    }

    TEST_CASE("the days of the calendar are days, leap days too") {
        CHECK(parse_day(" 2026-03-14 ").value() == "2026-03-14");
        CHECK(parse_day("2024-02-29").ok());
        CHECK(parse_day("2000-02-29").ok());
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("what is no set of gauges is refused") {
        for (const char* text : {"", "10,,13", "ten", "0.5", "2000", "46w/60", "-10", "0.001in", "w"}) {
            CAPTURE(text);
            REQUIRE(!parse_gauges(text).ok());
            CHECK(parse_gauges(text).error().fault == Fault::usage);
        }
    }
    TEST_CASE("what is no fret and what is no day is refused") {
        for (const char* text : {"0", "37", "first", "1;2", "-1"}) {
            CAPTURE(text);
            CHECK(!parse_held(text).ok());
        }
        for (const char* text : {"", "2026-3-14", "2026-02-29", "1900-02-29", "2026-13-01", "2026-00-10",
                                 "2026-01-32", "14.03.2026", "2026-03-1x"}) {
            CAPTURE(text);
            CHECK(!parse_day(text).ok());
        }
    }
}

}  // namespace midspan::test
