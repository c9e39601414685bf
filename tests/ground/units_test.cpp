// units_test.cpp: quantities and the two roads between hertz and cents.
#include "midspan/units.hpp"

#include <doctest/doctest.h>

#include <type_traits>

#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

template <class A, class B>
concept Addable = requires(A a, B b) {
    a + b;
};

TEST_SUITE("physics") {
    TEST_CASE("an interval up and the same interval down cancel") {
        for (const Hertz f : {20.0_hz, 82.4069_hz, 1319.0_hz}) {
            for (const Cents by : {-1200.0_cents, -0.01_cents, 0.0_cents, 3.7_cents}) {
                CHECK(within(raised(raised(f, by), -by), f, 1e-10_hz));
                CHECK(within(interval(f, raised(f, by)), by, 1e-9_cents));
            }
        }
    }
    TEST_CASE("quantities of different units do not mix, and a bare number is no quantity") {
        static_assert(Addable<Hertz, Hertz>);
        static_assert(!Addable<Hertz, Cents>);
        static_assert(!Addable<Hertz, double>);
        static_assert(!std::is_convertible_v<double, Hertz>);
    }
}

TEST_SUITE("published") {
    // ISO 16:1975, standard tuning frequency: A4 = 440 Hz. The step down is arithmetic.
    TEST_CASE("ISO 16: with A4 at 440 Hz, E2 is 82.407 Hz, 29 equal-tempered semitones below") {
        CHECK(within(raised(440.0_hz, -2900.0_cents), 82.406889_hz, 1e-6_hz));
    }
    // The cent is 1200 log2 of the ratio (A. J. Ellis, 1885; the numbers are arithmetic, as in any
    // handbook of acoustics).
    TEST_CASE("cents of just intervals: fifth 701.955, major third 386.314, syntonic comma 21.506") {
        CHECK(within(interval(2.0_hz, 3.0_hz), 701.955001_cents, 1e-6_cents));
        CHECK(within(interval(4.0_hz, 5.0_hz), 386.313714_cents, 1e-6_cents));
        CHECK(within(interval(80.0_hz, 81.0_hz), 21.506290_cents, 1e-6_cents));
    }
}

}  // namespace midspan::test
