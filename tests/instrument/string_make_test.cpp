// string_make_test.cpp: weight and stiffness from the gauge.
#include "midspan/instrument/string_make.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

Millimetres inches(double value) { return value * millimetres_per_inch; }

StringGauge gauge_of(const char* text) { return parse_gauge(text).value(); }

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("a plain string of twice the gauge weighs four times, stretches a quarter, bends a sixteenth") {
        const StringMake thin = string_make({0.25_mm, false, {}});
        const StringMake thick = string_make({0.5_mm, false, {}});
        CHECK(within(thick.unit_weight, 4.0 * thin.unit_weight, GramsPerMetre{1e-9}));
        CHECK(within(thick.stretch_stiffness, 4.0 * thin.stretch_stiffness, Newtons{1e-6}));
        CHECK(within(thick.bending_stiffness, 16.0 * thin.bending_stiffness, NewtonSquareMillimetres{1e-6}));
    }
    TEST_CASE("the wrap of a wound string weighs, but neither carries tension nor stiffens") {
        const StringMake core = string_make({inches(0.017), false, {}});
        const StringMake wound = string_make({inches(0.046), true, inches(0.017)});
        CHECK(wound.unit_weight.value() > 6.0 * core.unit_weight.value());
        CHECK(within(wound.stretch_stiffness, core.stretch_stiffness, Newtons{1e-6}));
        CHECK(within(wound.bending_stiffness, core.bending_stiffness, NewtonSquareMillimetres{1e-9}));
    }
    // Worked by hand: 7,850 kg/m^3, 207 GPa; wrap 8,900 kg/m^3 as an exact helix.
    TEST_CASE("unit weights: 0.3978 g/m for .010 plain, 7.6897 g/m for .046 on .017 nickel") {
        CHECK(within(string_make({inches(0.010), false, {}}).unit_weight, GramsPerMetre{0.397765},
                     GramsPerMetre{1e-6}));
        StringMaterial nickel;
        nickel.wrap_density_kg_m3 = 8900.0;
        CHECK(within(string_make({inches(0.046), true, inches(0.017)}, nickel).unit_weight,
                     GramsPerMetre{7.689702}, GramsPerMetre{1e-6}));
        CHECK(within(string_make({inches(0.010), false, {}}).stretch_stiffness, Newtons{10488.8},
                     Newtons{0.1}));
    }
    TEST_CASE(
        "between nickel-plated steel and pure nickel lie 4 % or less on either side of a wound string") {
        StringMaterial light, heavy;
        light.wrap_density_kg_m3 = 7900.0;
        heavy.wrap_density_kg_m3 = 8900.0;
        const StringGauge e2{inches(0.046), true, inches(0.017)};
        const GramsPerMetre stated = string_make(e2).unit_weight;
        CHECK(string_make(e2, light).unit_weight.value() > 0.94 * stated.value());
        CHECK(string_make(e2, heavy).unit_weight.value() < 1.06 * stated.value());
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a gauge reads the same in thousandths, inches and millimetres") {
        for (const char* text :
             {"10", "10.0", ".010", "0.010", "0.010in", ".010 in", "0.254mm", "0.254 mm"}) {
            CAPTURE(text);
            CHECK(within(gauge_of(text).gauge, 0.254_mm, 1e-9_mm));
            CHECK_FALSE(gauge_of(text).wound);
        }
        const StringGauge low = gauge_of("46w/17");
        CHECK(low.wound);
        CHECK(within(low.gauge, 1.1684_mm, 1e-9_mm));
        REQUIRE(low.core);
        CHECK(within(*low.core, 0.4318_mm, 1e-9_mm));
        CHECK_FALSE(gauge_of("46W").core);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("what is no gauge is a fault of usage that says how to write one") {
        for (const char* text : {"", "w", "ten", "-10", "1e1", "nan", "0", "0.2in", "500", "46/17", "46w/",
                                 "46w/60", "46w/0", "9w/8.9", "10w17", "10,13"}) {
            CAPTURE(text);
            const auto gauge = parse_gauge(text);
            REQUIRE_FALSE(gauge);
            CHECK(gauge.error().fault == Fault::usage);
            CHECK(gauge.error().remedy.find("46w/17") != std::string::npos);
        }
    }
}

}  // namespace midspan::test
