// length_test.cpp: lengths as people write them.
#include "midspan/instrument/length.hpp"

#include <doctest/doctest.h>

#include <clocale>
#include <initializer_list>
#include <string>

#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

TEST_SUITE("published") {
    // The inch is 25.4 mm exactly (international yard and pound agreement of 1959, from memory).
    TEST_CASE("1959 agreement: the inch is 25.4 mm, in decimals and in fractions") {
        for (const std::string_view text : {"25.5in", "25.5 in", "25.5\"", "25.5 inches", "25 1/2 in",
                                            "25-1/2in", "25 1/2\"", "25.5″", "25.5IN", "51/2 inch"}) {
            CAPTURE(text);
            CHECK(within(parse_length(text).value(), 647.7_mm, 1e-9_mm));
        }
        CHECK(within(parse_length("24 3/4 in").value(), 628.65_mm, 1e-9_mm));
        CHECK(within(parse_length("1/64in").value(), 0.396875_mm, 1e-12_mm));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a plain number is millimetres") {
        CHECK(within(parse_length("628.65").value(), 628.65_mm, 1e-12_mm));
        CHECK(within(parse_length(" 648 mm ").value(), 648.0_mm, 1e-12_mm));
        CHECK(within(parse_length("-0.5").value(), -0.5_mm, 1e-12_mm));
        CHECK(within(parse_length("-1-1/2in").value(), -38.1_mm, 1e-12_mm));
    }
    TEST_CASE("a number reads the same in a locale that writes a decimal comma") {
        const std::string before = std::setlocale(LC_ALL, nullptr);
        for (const char* const locale : {"de_DE.UTF-8", "fr_FR.UTF-8", "C"}) {
            std::setlocale(LC_ALL, locale);  // where it is not installed, the test says less
            CHECK(within(parse_length("628.65").value(), 628.65_mm, 1e-12_mm));
            CHECK(!parse_length("628,65").ok());
        }
        std::setlocale(LC_ALL, before.c_str());
    }
    TEST_CASE("scale lengths from 200 to 1,500 mm are taken, in either unit") {
        CHECK(parse_scale_length("200").ok());
        CHECK(parse_scale_length("1500").ok());
        CHECK(parse_scale_length("25.5in").ok());
        CHECK(!parse_scale_length("199.9").ok());
        CHECK(!parse_scale_length("1500.1").ok());
        CHECK(!parse_scale_length("7in").ok());
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("25.5 taken for millimetres is asked about") {
        const auto length = parse_scale_length("25.5");
        REQUIRE(!length.ok());
        CHECK(length.error().fault == Fault::usage);
        CHECK(length.error().subject == "scale length '25.5'");
        CHECK(length.error().remedy == "25.5 mm? write 25.5in");
        CHECK(parse_scale_length("24.75mm").error().remedy == "24.75 mm? write 24.75in");
    }
    TEST_CASE("648 taken for inches is asked about") {
        CHECK(parse_scale_length("648in").error().remedy == "648 inches? write 648mm");
    }
    TEST_CASE("a scale length that is negative, nothing or absurd is refused") {
        for (const std::string_view text :
             {"-648", "0", "0in", "-25.5in", "3", "100000", "1500.5", "5000in"}) {
            CAPTURE(text);
            REQUIRE(!parse_scale_length(text).ok());
            CHECK(parse_scale_length(text).error().fault == Fault::usage);
            CHECK(parse_scale_length(text).error().remedy.find("write") == std::string::npos);
        }
    }
    TEST_CASE("what is no length is refused in one line") {
        const std::string endless(400, '9');
        for (const std::string_view text : std::initializer_list<std::string_view>{
                 "",         " ",     "mm",    "in",         "nan",  "inf",   "-inf",
                 "0x10",     "1e3",   "648x",  "648 mm mm",  "six",  "648,5", "1/0in",
                 "24 3/4",   "3/in",  "/4in",  "24 3/4/5in", "--5",  "+",     "1 2 3/4in",
                 "648\n649", "6.4.8", "648cm", "\xff\xfe",   endless}) {
            CAPTURE(text);
            const auto length = parse_length(text);
            REQUIRE(!length.ok());
            CHECK(length.error().fault == Fault::usage);
            CHECK(length.error().subject.find('\n') == std::string::npos);
            CHECK(length.error().subject.size() < 80);
            CHECK(!length.error().problem.empty());
            CHECK(!length.error().remedy.empty());
            CHECK(!parse_scale_length(text).ok());
        }
    }
}

}  // namespace midspan::test
