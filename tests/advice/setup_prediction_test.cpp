// setup_prediction_test.cpp: what other strings, tunings and heights do, told before.
#include "midspan/advice/setup_prediction.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <string_view>
#include <vector>

#include "midspan/instrument/string_physics.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

/// Gauges as players write them, string 1 first.
Setup setup_of(std::initializer_list<const char*> gauges, std::string_view tuning = standard_tuning) {
    const std::array lengths{648.0_mm};
    Saddle saddle;
    saddle.travel_toward_tail = 3.0_mm;
    saddle.travel_toward_nut = 3.0_mm;
    Setup setup{make_instrument(tuning, lengths, 440.0_hz, saddle).value(), {}, 1.8_mm, 0.5_mm, 0.2_mm};
    for (const char* gauge : gauges)
        setup.strings.push_back(parse_gauge(gauge).value());
    return setup;
}

Setup light() { return setup_of({"10", "13", "17", "26w/13", "36w/15", "46w/17"}); }
Setup medium() { return setup_of({"11", "14", "18", "28w/14", "38w/16", "49w/18"}); }

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("nothing changed changes nothing, with certainty") {
        const SetupPrediction same = predict_setup(light(), light());
        CHECK(within(same.tension_change.value, Newtons{0.0}, Newtons{1e-9}));
        CHECK(within(same.tension_change.uncertainty, Newtons{0.0}, Newtons{1e-9}));
        for (const PredictedString& string : same.strings) {
            CHECK(within(string.move.value, 0.0_mm, 1e-9_mm));
            for (const PredictedNote& note : string.notes) {
                CHECK(within(note.change.value, 0.0_cents, 1e-9_cents));
                CHECK(within(note.change.uncertainty, 0.0_cents, 1e-9_cents));
            }
        }
    }
    TEST_CASE(
        "the 12th is right before the change and after the move, and between them the move's worth off") {
        for (const PredictedString& string : predict_setup(light(), medium()).strings) {
            const PredictedNote& twelfth = string.notes[11];
            REQUIRE(twelfth.fret == 12);
            CAPTURE(string.number);
            CHECK(within(twelfth.before.value, 0.0_cents, 0.001_cents));
            CHECK(within(twelfth.after_move.value, 0.0_cents, 0.001_cents));
            // 0.374 mm a cent less up to 3 %: stretch and stiffness shrink on the way.
            CHECK(within(string.move.value, Millimetres{0.374 * twelfth.after.value.value()},
                         Millimetres{0.03 * std::abs(string.move.value.value()) + 1e-4}));
        }
    }
    TEST_CASE("tension goes with the square of a plain gauge and of the pitch") {
        const SetupPrediction thicker = predict_setup(light(), medium());
        const PredictedString& e4 = thicker.strings[0];
        CHECK(within(e4.tension_after.value, 1.21 * e4.tension_before.value, Newtons{0.5}));
        const SetupPrediction down = predict_setup(
            light(), setup_of({"10", "13", "17", "26w/13", "36w/15", "46w/17"}, "D2,G2,C3,F3,A3,D4"));
        for (const PredictedString& string : down.strings) {
            CAPTURE(string.number);
            CHECK(within(string.tension_after.value, std::exp2(-1.0 / 3.0) * string.tension_before.value,
                         Newtons{0.3}));
        }
    }
    TEST_CASE(
        "a core that is the same under more tension stretches less: a higher tuning wants less setback") {
        const SetupPrediction down = predict_setup(
            light(), setup_of({"10", "13", "17", "26w/13", "36w/15", "46w/17"}, "D2,G2,C3,F3,A3,D4"));
        for (const PredictedString& string : down.strings) {
            CAPTURE(string.number);
            CHECK(string.move.value > 0.1_mm);
        }
    }
    TEST_CASE("lower action takes stretch away, most of it where the string was highest") {
        Setup lower = light();
        lower.action = 1.3_mm;
        for (const PredictedString& string : predict_setup(light(), lower).strings) {
            CAPTURE(string.number);
            CHECK(string.notes[11].change.value < -0.5_cents);
            CHECK(string.notes[18].change.value < string.notes[11].change.value);
            CHECK(string.move.value < 0.0_mm);
            CHECK(within(string.tension_change.value, Newtons{0.0}, Newtons{0.1}));
        }
    }
    TEST_CASE("a plain third is worth several times the setback of a wound one") {
        Setup plain = light(), wound = light();
        wound.strings[2] = parse_gauge("20w/10").value();
        const PredictedString third = predict_setup(plain, wound).strings[2];
        CHECK(third.setback_before.value > 1.5 * third.setback_after.value);
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a change is known better than either setup where the strings stay") {
        Setup lower = light();
        lower.action = 1.5_mm;
        for (const PredictedString& string : predict_setup(light(), lower).strings) {
            CHECK(string.move.uncertainty < 0.5 * string.setback_before.uncertainty);
        }
    }
    TEST_CASE("a core nobody stated widens every uncertainty it touches") {
        Setup unstated = light();
        unstated.strings[5] = parse_gauge("46w").value();
        const PredictedString known = predict_setup(light(), light()).strings[5];
        const PredictedString guessed = predict_setup(unstated, unstated).strings[5];
        CHECK(guessed.setback_before.uncertainty > 1.1 * known.setback_before.uncertainty);
        CHECK(within(guessed.setback_before.value, known.setback_before.value, 0.3_mm));
    }
    TEST_CASE("the truth of another material lies within two uncertainties of the prediction") {
        StringMaterial other;
        other.modulus_gpa = 197.0;
        other.wrap_density_kg_m3 = 8690.0;
        for (std::size_t i = 0; i < 6; ++i) {
            const PredictedString predicted = predict_setup(light(), light()).strings[i];
            StringLay lay{648.0_mm};
            lay.nut_height = 0.5_mm;
            lay.relief = 0.2_mm;
            lay.saddle_height = saddle_height_for(lay, 1.8_mm);
            const double truth = string_tension(string_make(light().strings[i], other), lay,
                                                light().instrument.strings[i].open_frequency)
                                     .value();
            CHECK(within(Newtons{truth}, predicted.tension_before.value,
                         2.0 * predicted.tension_before.uncertainty));
        }
    }
    TEST_CASE("travel: enough, doubtful or too short, by the move and its uncertainty") {
        Setup before = light(), higher = light();
        higher.action = 2.6_mm;
        const Uncertain<Millimetres> move = predict_setup(before, higher).strings[2].move;
        const auto travel_of = [&](double left_mm) {
            Setup short_of = before;
            short_of.instrument.strings[2].saddle.travel_toward_tail = Millimetres{left_mm};
            return predict_setup(short_of, higher).strings[2].travel;
        };
        CHECK(travel_of(move.value.value() + 3.0 * move.uncertainty.value()) == TravelVerdict::enough);
        CHECK(travel_of(move.value.value()) == TravelVerdict::doubtful);
        CHECK(travel_of(move.value.value() - 3.0 * move.uncertainty.value()) == TravelVerdict::too_short);
        before.instrument.strings[2].saddle.travel_toward_tail.reset();
        CHECK(predict_setup(before, higher).strings[2].travel == TravelVerdict::not_known);
    }
    TEST_CASE("a .010 at E4 carries about half of what wire bears, an octave up it would break") {
        CHECK(predict_setup(light(), light()).strings[0].share_of_strength ==
              doctest::Approx(0.53).epsilon(0.03));
        const Setup octave = setup_of({"10", "13", "17", "26w/13", "36w/15", "46w/17"}, "E2,A2,D3,G3,B3,E5");
        CHECK(predict_setup(light(), octave).strings[0].share_of_strength > 1.5);
    }
}

}  // namespace midspan::test
