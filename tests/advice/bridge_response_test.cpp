// bridge_response_test.cpp: learning what a turn does, on simulated bridges.
#include "midspan/advice/bridge_response.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "support/random_numbers.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

constexpr double cents_a_millimetre = 1731.234 / 648.0;

/// A saddle whose screw nobody has measured.
struct Bridge {
    double thread_pitch;  // mm
    double backlash;      // turns lost when the screw turns back
    double error;         // cents
    double last_turn = 0.0;
    bool stuck = false;

    void turn(double turns) {
        double moved = turns;
        if (turns * last_turn < 0.0) moved = std::copysign(std::max(0.0, std::abs(turns) - backlash), turns);
        last_turn = turns;
        if (!stuck) error -= moved * thread_pitch * cents_a_millimetre;
        stuck = false;  // a saddle that stuck is freed and goes with the next turn
    }
};

struct Adjusted {
    int moves;         ///< until the error was within a cent
    double after_two;  ///< cents still there after two moves
};

Adjusted adjusted(Bridge bridge, bool learning, RandomNumbers& random) {
    constexpr double reading = 0.15;
    BridgeResponse response{std::nullopt, 648.0_mm};
    Adjusted result{0, 0.0};
    while (std::abs(bridge.error) > 1.0 && result.moves < 20) {
        const BridgeResponse advisor = learning ? response : BridgeResponse{std::nullopt, 648.0_mm};
        const Uncertain<Cents> before{Cents{bridge.error + reading * random.normal()}, Cents{reading}};
        const Turns advised = advisor.turns_for(before.value);
        bridge.turn(advised.value() + 0.05 * random.normal());
        const Uncertain<Cents> after{Cents{bridge.error + reading * random.normal()}, Cents{reading}};
        response.learn({before, advised, after});
        ++result.moves;
        if (result.moves <= 2) result.after_two = std::abs(bridge.error);
    }
    return result;
}

Uncertain<Cents> about(Cents value) { return {value, 0.2_cents}; }

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("a known thread and scale length say what a turn does") {
        const BridgeResponse response{0.5_mm, 648.0_mm};
        // Two ways to the same: one turn is half a millimetre, and 0.3743 mm are a cent at 648 mm.
        CHECK(within(response.cents_per_turn().value, Cents{0.5 / 0.37430}, 0.001_cents));
        CHECK(within(response.turns_for(2.6717_cents), 2.0_turns, 0.001_turns));
        CHECK(response.turns_for(-3.0_cents) < 0.0_turns);
        CHECK_FALSE(response.learned());
    }
    TEST_CASE("two moves bring bridges nobody knows within a cent, where the prior alone needs more") {
        RandomNumbers random{7};
        double moves[2] = {};
        double within_a_cent[2] = {};
        constexpr int bridges = 2000;
        for (int i = 0; i < bridges; ++i) {
            Bridge bridge{random.uniform(0.35, 0.8), random.uniform(0.0, 0.15),
                          random.uniform(3.0, 20.0) * (random.uniform() < 0.5 ? -1.0 : 1.0)};
            bridge.stuck = random.uniform() < 0.05;
            for (const bool learning : {false, true}) {
                const Adjusted result = adjusted(bridge, learning, random);
                moves[learning] += static_cast<double>(result.moves) / bridges;
                within_a_cent[learning] += (result.after_two <= 1.0 ? 100.0 : 0.0) / bridges;
            }
        }
        MESSAGE("learning: ", moves[1], " moves to within a cent, ", within_a_cent[1], " % within two");
        MESSAGE("the prior alone: ", moves[0], " moves, ", within_a_cent[0], " % within two");
        CHECK(moves[1] <= 2.0);
        CHECK(within_a_cent[1] >= 90.0);
        CHECK(moves[0] > moves[1] + 0.2);
        CHECK(within_a_cent[0] < within_a_cent[1] - 10.0);
    }
    TEST_CASE("one move teaches a screw whose thread was unknown") {
        for (const double pitch : {0.35, 0.5, 0.7, 0.8}) {
            BridgeResponse response{std::nullopt, 648.0_mm};
            const Turns advised = response.turns_for(12.0_cents);
            const double k = pitch * cents_a_millimetre;
            const auto outcome =
                response.learn({about(12.0_cents), advised, about(12.0_cents - advised.value() * Cents{k})});
            CAPTURE(pitch);
            CHECK(outcome == MoveOutcome::as_expected);
            CHECK(response.learned());
            CHECK(within(response.cents_per_turn().value, Cents{k}, Cents{0.05 * k}));
            CHECK(magnitude(response.cents_per_turn().value - Cents{k}) <
                  3.0 * response.cents_per_turn().uncertainty);
        }
    }
}

TEST_SUITE("properties") {
    TEST_CASE("what went wrong is said by name and teaches nothing about the screw") {
        for (const double sign : {1.0, -1.0}) {
            for (const bool known : {true, false}) {
                BridgeResponse response{known ? std::optional{0.55_mm} : std::nullopt, 648.0_mm};
                const Cents before = response.cents_per_turn().value;
                const Turns advised = response.turns_for(sign * 9.0_cents);
                const auto outcome_at = [&](double left) {
                    return response.learn({about(sign * 9.0_cents), advised, about(sign * Cents{left})});
                };
                CAPTURE(sign);
                CAPTURE(known);
                CHECK(outcome_at(9.1) == MoveOutcome::did_not_move);
                CHECK(outcome_at(18.0) == MoveOutcome::wrong_way);
                CHECK(outcome_at(-9.0) == MoveOutcome::missing_retune);
                CHECK(response.cents_per_turn().value == before);
                CHECK_FALSE(response.learned());
                CHECK(outcome_at(0.2) == MoveOutcome::as_expected);
            }
        }
    }
    TEST_CASE("what another one knew is gone on with as if it had not been interrupted") {
        for (const std::optional<Millimetres> pitch : {std::optional<Millimetres>{}, std::optional{0.5_mm}}) {
            BridgeResponse whole{pitch, 648.0_mm};
            CHECK_FALSE(whole.known().has_value());
            REQUIRE(whole.learn({about(10.0_cents), 7.0_turns, about(1.2_cents)}) ==
                    MoveOutcome::as_expected);
            REQUIRE(whole.known().has_value());
            BridgeResponse resumed{*whole.known()};
            CHECK(resumed.learned());
            const MadeMove second{about(-6.0_cents), -4.5_turns, about(-0.4_cents)};
            CHECK(resumed.learn(second) == whole.learn(second));
            CHECK(resumed.known()->moves == 2);
            CHECK(whole.known()->moves == 2);
            CHECK(within(resumed.cents_per_turn().value, whole.cents_per_turn().value, 1e-12_cents));
            CHECK(within(resumed.cents_per_turn().uncertainty, whole.cents_per_turn().uncertainty,
                         1e-12_cents));
            CHECK(within(resumed.turns_for(5.0_cents), whole.turns_for(5.0_cents), 1e-12_turns));
        }
    }
    TEST_CASE("turns are as uncertain as the error and the screw together") {
        const BridgeResponse response{KnownResponse{{2.0_cents, 0.1_cents}, 1}};
        const Uncertain<Turns> turns = response.turns_for(Uncertain<Cents>{8.0_cents, 0.3_cents});
        CHECK(within(turns.value, 4.0_turns, 1e-12_turns));
        CHECK(within(turns.uncertainty, Turns{std::hypot(0.15, 0.2)}, 1e-12_turns));
    }
    TEST_CASE("a move too small for its readings is unclear, and no number breaks it") {
        BridgeResponse response{std::nullopt, 648.0_mm};
        CHECK(response.learn({about(0.4_cents), 0.25_turns, about(0.1_cents)}) == MoveOutcome::unclear);
        CHECK(response.learn({about(4.0_cents), 0.0_turns, about(4.0_cents)}) == MoveOutcome::unclear);
        for (const double after : {-500.0, -3.0, 0.0, 3.0, 500.0}) {
            static_cast<void>(response.learn({about(10.0_cents), 6.0_turns, about(Cents{after})}));
            CHECK(std::isfinite(response.cents_per_turn().value.value()));
            CHECK(response.cents_per_turn().value > 0.0_cents);
            CHECK(response.cents_per_turn().uncertainty > 0.0_cents);
        }
    }
}

}  // namespace midspan::test
