// saddle_move_test.cpp: distances, directions and turns.
#include "midspan/advice/saddle_move.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>

#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

TEST_SUITE("physics") {
    TEST_CASE("moving the saddle as advised and tuning back removes the error but for second order") {
        for (const Cents error : {-20.0_cents, -2.2_cents, 0.0_cents, 5.0_cents, 20.0_cents}) {
            const Millimetres length = 648.0_mm;
            const double pressing = std::exp2(error.value() / 1200.0);  // what made the note sharp
            const Millimetres d = saddle_move({error, 0.1_cents}, length).toward_tail;
            const double ratio = (length + d) / (0.5 * length + d) * pressing;
            // Both lengths change, so a little is left: 1.5 error^2 ln 2 / 1200, 0.35 cent at 20.
            const Cents left{error.value() * error.value() * 8.665e-4};
            CHECK(within(interval(1.0_hz, Hertz{ratio}), 1200.0_cents, left + 0.01_cents));
        }
    }
    TEST_CASE("a sharp note sends the saddle toward the tail, a flat one toward the nut") {
        // The trade's rule: flat against the harmonic, saddle toward the nut; sharp, away from it. Common
        // practice, no source; the physics above agrees.
        CHECK(saddle_move({3.0_cents, 0.1_cents}, 648.0_mm).toward_tail > 0.0_mm);
        CHECK(saddle_move({-3.0_cents, 0.1_cents}, 648.0_mm).toward_tail < 0.0_mm);
    }
    TEST_CASE("the full model of six steel strings lies within two uncertainties of the plain constant") {
        // Stretch, stiffness and both lengths changing: 0.3656 to 0.3741 mm per cent at 648 mm; own
        // derivation.
        const SaddleMove move = saddle_move({10.0_cents, 0.0_cents}, 648.0_mm);
        for (const double per_cent : {0.3656, 0.3741}) {
            CHECK(within(move.toward_tail, Millimetres{10.0 * per_cent}, 2.0 * move.uncertainty));
        }
    }
}

TEST_SUITE("published") {
    // A repair forum's measurement quoted in the trade: about 0.140 in for 10 cents at 25.5 in. Common
    // practice, no source; the arithmetic gives 0.147 in.
    TEST_CASE("one cent is 0.374 mm at 648 mm, twice what the fretted length alone would say") {
        const Millimetres move = saddle_move({1.0_cents, 0.0_cents}, 648.0_mm).toward_tail;
        CHECK(within(move, 0.374299_mm, 1e-6_mm));
        const Millimetres fretted_alone = (std::exp2(1.0 / 1200.0) - 1.0) * 324.0_mm;
        CHECK(within(move, 2.0 * fretted_alone, 2e-4_mm));
        CHECK(within(saddle_move({10.0_cents, 0.0_cents}, 647.7_mm).toward_tail, 0.147 * millimetres_per_inch,
                     0.02_mm));
    }
    // Pitches: ISO 261 / ISO 724 coarse (M3: 0.5 mm), ASME B1.1 (#4-40: 25.4 / 40 mm), from secondary tables.
    TEST_CASE("ten cents sharp at 648 mm is 7.5 turns of an M3 screw and 5.9 of a 4-40") {
        const Millimetres move = saddle_move({10.0_cents, 0.0_cents}, 648.0_mm).toward_tail;
        CHECK(within(turns(move, parse_thread_pitch("M3").value()), 7.486_turns, 0.001_turns));
        CHECK(within(turns(move, parse_thread_pitch("4-40").value()), 5.8945_turns, 0.001_turns));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("the move grows with error and scale length, and its uncertainty with both its sources") {
        const SaddleMove small = saddle_move({2.0_cents, 0.2_cents}, 628.65_mm);
        CHECK(saddle_move({4.0_cents, 0.2_cents}, 628.65_mm).toward_tail > small.toward_tail);
        CHECK(saddle_move({2.0_cents, 0.2_cents}, 864.0_mm).toward_tail > small.toward_tail);
        CHECK(saddle_move({2.0_cents, 0.4_cents}, 628.65_mm).uncertainty > small.uncertainty);
        CHECK(saddle_move({9.0_cents, 0.2_cents}, 628.65_mm).uncertainty > small.uncertainty);
    }
    TEST_CASE("turns are said as a hand does them, whichever way") {
        CHECK(turns_in_words(2.26_turns) == "2 1/4 turns");
        CHECK(turns_in_words(Turns{-2.26}) == "2 1/4 turns");
        CHECK(turns_in_words(1.03_turns) == "1 turn");
        CHECK(turns_in_words(0.48_turns) == "1/2 turn");
        CHECK(turns_in_words(0.13_turns) == "1/8 turn");
        CHECK(turns_in_words(3.97_turns) == "4 turns");
        CHECK(turns_in_words(0.0_turns) == "a touch");
        CHECK(turns_in_words(0.0626_turns) == "1/8 turn");
    }
    TEST_CASE("travel is what is left on the side the saddle goes to; unknown travel forbids nothing") {
        Saddle saddle;
        CHECK(within_travel(9.0_mm, saddle));
        saddle.travel_toward_tail = 2.0_mm;
        saddle.travel_toward_nut = 0.5_mm;
        CHECK(within_travel(2.0_mm, saddle));
        CHECK_FALSE(within_travel(2.1_mm, saddle));
        CHECK(within_travel(Millimetres{-0.5}, saddle));
        CHECK_FALSE(within_travel(Millimetres{-0.6}, saddle));
        CHECK(when_travel_runs_out().size() == 4);
    }
}

}  // namespace midspan::test
