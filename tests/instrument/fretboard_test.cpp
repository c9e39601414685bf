// fretboard_test.cpp: fret positions.
#include "midspan/instrument/fretboard.hpp"

#include <doctest/doctest.h>

#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

TEST_SUITE("physics") {
    TEST_CASE("each fret shortens what is left of the string by one equal-tempered semitone") {
        for (int fret = 1; fret <= 24; ++fret) {
            const Millimetres longer = 648.0_mm - fret_position(fret - 1, 648.0_mm);
            const Millimetres shorter = 648.0_mm - fret_position(fret, 648.0_mm);
            CHECK(within(interval(1.0_hz, Hertz{longer / shorter}), 100.0_cents, 1e-9_cents));
        }
    }
    TEST_CASE("the nut is fret 0, the 12th lies at half and the 24th at three quarters of the scale length") {
        CHECK(within(fret_position(0, 628.65_mm), 0.0_mm, 1e-12_mm));
        CHECK(within(fret_position(12, 628.65_mm), 314.325_mm, 1e-9_mm));
        CHECK(within(fret_position(24, 628.65_mm), 471.4875_mm, 1e-9_mm));
    }
}

TEST_SUITE("published") {
    // The fret maker's rule: the next fret is 1/17.817 of what is left (older practice: 1/18). Byers,
    // 'Classical guitar intonation', American Lutherie 47 (1996), gives 17.817.
    TEST_CASE("the 17.817 rule: dividing what is left by 17.817 lands on the same frets within 0.01 mm") {
        Millimetres left = 648.0_mm;
        for (int fret = 1; fret <= 22; ++fret) {
            left = (1.0 - 1.0 / 17.817) * left;
            CHECK(within(fret_position(fret, 648.0_mm), 648.0_mm - left, 0.01_mm));
        }
    }
    // Worked from x_n = L (1 - 2^(-n/12)) at L = 648 mm, rounded to 0.0001 mm.
    TEST_CASE("fret positions at 648 mm") {
        CHECK(within(fret_position(1, 648.0_mm), 36.3694_mm, 0.0001_mm));
        CHECK(within(fret_position(2, 648.0_mm), 70.6976_mm, 0.0001_mm));
        CHECK(within(fret_position(3, 648.0_mm), 103.0991_mm, 0.0001_mm));
        CHECK(within(fret_position(5, 648.0_mm), 162.5485_mm, 0.0001_mm));
        CHECK(within(fret_position(7, 648.0_mm), 215.5119_mm, 0.0001_mm));
        CHECK(within(fret_position(17, 648.0_mm), 405.2743_mm, 0.0001_mm));
        CHECK(within(fret_position(22, 648.0_mm), 466.1611_mm, 0.0001_mm));
    }
}

}  // namespace midspan::test
