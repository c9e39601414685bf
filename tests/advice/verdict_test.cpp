// verdict_test.cpp: what may be called good, and what may be asked for.
#include "midspan/advice/verdict.hpp"

#include <doctest/doctest.h>

#include <initializer_list>

namespace midspan::test {
using namespace midspan::literals;

TEST_SUITE("published") {
    // JCGM 106:2012, 8.3: guarded acceptance and guarded rejection with a guard band of U = 2 u; what lies
    // between is neither. (Clause from memory.)
    TEST_CASE("JCGM 106: accepted only a guard band inside the tolerance, moved only a guard band outside") {
        CHECK(decide({0.9_cents, 0.29_cents}, 1.5_cents) == Verdict::in_tolerance);
        CHECK(decide({0.9_cents, 0.31_cents}, 1.5_cents) == Verdict::measure_again);
        CHECK(decide({2.1_cents, 0.31_cents}, 1.5_cents) == Verdict::measure_again);
        CHECK(decide({2.1_cents, 0.29_cents}, 1.5_cents) == Verdict::move);
    }
}

TEST_SUITE("properties") {
    TEST_CASE("sharp and flat are judged alike, and more certainty never makes a verdict less certain") {
        for (double error = 0.0; error < 6.0; error += 0.07) {
            bool decided = false;
            for (const double u : {3.0, 1.0, 0.3, 0.1, 0.01}) {
                const Verdict sharp = decide({Cents{error}, Cents{u}}, default_tolerance);
                CHECK(sharp == decide({Cents{-error}, Cents{u}}, default_tolerance));
                if (decided) CHECK(sharp != Verdict::measure_again);
                decided = decided || sharp != Verdict::measure_again;
            }
        }
    }
    TEST_CASE("a move is never asked for that is smaller than the doubt about it") {
        for (double error = -10.0; error < 10.0; error += 0.1) {
            for (const double u : {0.05, 0.5, 2.0, 5.0}) {
                if (decide({Cents{error}, Cents{u}}, default_tolerance) == Verdict::move) {
                    CHECK(magnitude(Cents{error}) > Cents{2.0 * u});
                }
            }
        }
    }
}

}  // namespace midspan::test
