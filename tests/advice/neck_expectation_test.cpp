// neck_expectation_test.cpp: what a good neck shows, against necks made by physics and against nature.
#include "midspan/advice/neck_expectation.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "midspan/advice/setup_prediction.hpp"
#include "midspan/comparison/neck_survey.hpp"
#include "support/within.hpp"

namespace midspan::test {
namespace {

using namespace midspan::literals;

Instrument guitar() {
    const Millimetres length{648.0};
    return make_instrument(standard_tuning, {&length, 1}, 440.0_hz, {}).value();
}

StatedNeck stated(const std::vector<const char*>& gauges) {
    StatedNeck neck;
    for (std::size_t i = 0; i < gauges.size(); ++i) {
        StatedString string{static_cast<int>(i) + 1, {}, {}, {}};
        if (*gauges[i] != '\0') string.gauge = parse_gauge(gauges[i]).value();
        neck.strings.push_back(string);
    }
    return neck;
}

const std::vector<const char*> light{"10", "13", "17", "26w", "36w", "46w"};

double error_at(const std::vector<KnownError>& errors, int string, int fret) {
    for (const KnownError& e : errors) {
        if (e.string == string && e.fret == fret) return e.error.value();
    }
    return std::nan("");
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("a good neck is right at the 12th but for what the harmonic lies above the open string") {
        const auto errors = expected_errors(stated(light), guitar(), 0, 22);
        REQUIRE(errors.size() == 6 * 22);
        // The stiffness of the whole string is taken off; what clamped ends add is some hundredths of a cent.
        for (int string = 1; string <= 6; ++string)
            CHECK(within(Cents{error_at(errors, string, 12)}, 0.0_cents, 0.05_cents));
    }
    TEST_CASE("a higher nut sharpens the first fret most, a capo takes its height away") {
        StatedNeck low = stated(light);
        StatedNeck high = low;
        for (std::size_t i = 0; i < 6; ++i) {
            low.strings[i].nut_height = 0.3_mm;
            high.strings[i].nut_height = 0.5_mm;
        }
        const auto of_low = expected_errors(low, guitar(), 0, 12);
        const auto of_high = expected_errors(high, guitar(), 0, 12);
        CHECK(error_at(of_high, 3, 1) - error_at(of_low, 3, 1) > 1.5);
        CHECK(error_at(of_high, 3, 1) - error_at(of_low, 3, 1) >
              error_at(of_high, 3, 5) - error_at(of_low, 3, 5));
        const auto capo = expected_errors(high, guitar(), 2, 12);
        CHECK(std::abs(error_at(capo, 3, 1)) < error_at(of_low, 3, 1));
    }
}

TEST_SUITE("published") {
    // EA / T of a plain string holds no diameter: E / (rho (2 L f)^2), Anderson & Beausoleil, JASA 156, 683
    // (2024), kappa; steel of 207 GPa and 7850 kg/m^3.
    TEST_CASE("the stretch of a plain string follows from length and pitch alone, with or without a capo") {
        for (const int capo : {0, 5}) {
            const auto stretch = expected_stretch(stated(light), guitar(), capo, 1);
            REQUIRE(stretch.has_value());
            const double speed = 2.0 * 0.648 * 329.63;  // a capo shortens as much as it raises
            // Stiffness takes a little of the tension; 144 without it.
            CHECK(stretch->stiffness_to_tension ==
                  doctest::Approx(207e9 / 7850.0 / (speed * speed)).epsilon(0.02));
            CHECK(within(stretch->nut_height, capo > 0 ? 0.0_mm : usual_nut_height, 1e-9_mm));
        }
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a nut that was measured too high is not expected of a good neck") {
        StatedNeck neck = stated(light);
        const auto usual = expected_errors(neck, guitar(), 0, 5);
        for (StatedString& string : neck.strings)
            string.nut_height = 0.9_mm;
        const auto high = expected_errors(neck, guitar(), 0, 5);
        for (std::size_t i = 0; i < usual.size(); ++i)
            CHECK(within(high[i].error, usual[i].error, 0.0_cents));
    }
    TEST_CASE("strings whose gauge nobody stated are left to what is usual") {
        const auto some = expected_errors(stated({"10", "", "17", "", "", "46w"}), guitar(), 0, 5);
        CHECK(some.size() == 3 * 5);
        CHECK_FALSE(expected_stretch(stated({"10", "", "17", "", "", "46w"}), guitar(), 0, 2).has_value());
        NeckSurveyOptions options;
        CHECK(expecting(options, stated({"", "", "", "", "", ""}), guitar(), 0).known.empty());
        CHECK_FALSE(strings_stated(StatedNeck{}));
    }
    TEST_CASE("heights count as known when action and nut height of all strings were measured") {
        StatedNeck neck = stated(light);
        NeckSurveyOptions options;
        CHECK_FALSE(expecting(options, neck, guitar(), 0).heights_known);
        CHECK_FALSE(expecting(options, neck, guitar(), 0).relief_known);
        for (StatedString& string : neck.strings) {
            string.action = 1.8_mm;
            string.nut_height = 0.5_mm;
        }
        neck.relief = 0.2_mm;
        CHECK(expecting(options, neck, guitar(), 0).heights_known);
        CHECK(expecting(options, neck, guitar(), 0).relief_known);
    }
}

}  // namespace midspan::test
