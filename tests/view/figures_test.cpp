// figures_test.cpp: rounding that says no more than is known.
#include "view/figures.hpp"

#include <doctest/doctest.h>

namespace midspan::test {
using namespace midspan::literals;

TEST_SUITE("published") {
    // JCGM 100:2008 (GUM) 7.2.6, example: 10.057 62 ohm with an uncertainty of 27 milliohm becomes 10.058
    // ohm. From memory.
    TEST_CASE("GUM 7.2.6: 10.057 62 ohm known to 27 milliohm is 10.058 ohm") {
        CHECK(with_uncertainty(10.05762, 0.027, "+-", Sign::when_negative) == "10.058 +- 0.027");
    }
}

TEST_SUITE("properties") {
    TEST_CASE("an uncertainty has one significant digit, two when it begins with 1 or 2") {
        CHECK(with_uncertainty(2.2034, 0.124, "+-", Sign::always) == "+2.20 +- 0.12");
        CHECK(with_uncertainty(2.2034, 0.052, "+-", Sign::always) == "+2.20 +- 0.05");
        CHECK(with_uncertainty(2.2034, 0.29, "+-", Sign::always) == "+2.20 +- 0.29");
        CHECK(with_uncertainty(-2.2034, 0.36, "+-", Sign::always) == "-2.2 +- 0.4");
        CHECK(with_uncertainty(2.2034, 1.0, "+-", Sign::always) == "+2.2 +- 1.0");
        CHECK(with_uncertainty(12.6, 3.4, "+-", Sign::always) == "+13 +- 3");
        CHECK(with_uncertainty(126.0, 140.0, "+-", Sign::always) == "+130 +- 140");
        CHECK(with_uncertainty(126.0, 340.0, "+-", Sign::always) == "+100 +- 300");
    }
    TEST_CASE("an uncertainty finer than a thousandth is written as one, never as nothing") {
        CHECK(with_uncertainty(1.23456, 0.00001, "+-", Sign::when_negative) == "1.235 +- 0.001");
        CHECK(with_uncertainty(1.23456, 0.0, "+-", Sign::when_negative) == "1.235 +- 0.001");
    }
    TEST_CASE("nothing is written as minus zero") {
        CHECK(rounded(-0.004, 2) == "0.00");
        CHECK(rounded(-0.004, 2, Sign::always) == "0.00");
        CHECK(rounded(-0.006, 2) == "-0.01");
    }
    TEST_CASE("a time is minutes and the seconds that have passed") {
        CHECK(minutes_and_seconds(0.0_s) == "0:00");
        CHECK(minutes_and_seconds(71.9_s) == "1:11");
        CHECK(minutes_and_seconds(3600.0_s) == "60:00");
    }
}

}  // namespace midspan::test
