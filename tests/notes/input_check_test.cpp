// input_check_test.cpp: what counts as clipped, and what is no sample at all.
#include "notes/input_check.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <vector>

namespace midspan::test {
namespace {

InputFlaws flaws_in(const std::vector<float>& samples) {
    InputCheck check;
    std::vector<float> clean(samples.size());
    return check.copy_clean(samples, clean);
}

// A low E that decays, as a 16-bit file holds it.
std::vector<float> low_note(double amplitude, double limit) {
    std::vector<float> samples(48000);
    for (std::size_t n = 0; n < samples.size(); ++n) {
        const double t = static_cast<double>(n) / 48000.0;
        const double x = amplitude * std::exp(-t) * std::sin(2.0 * std::numbers::pi * 82.4 * t);
        samples[n] = static_cast<float>(std::round(std::clamp(x, -limit, limit) * 32768.0) / 32768.0);
    }
    return samples;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("three samples near full scale in a row are clipped, two are not") {
        CHECK(!flaws_in({0.5F, 0.99F, 0.99F, 0.5F, -1.0F, -0.99F, 0.1F}).clipped);
        CHECK(flaws_in({0.5F, 0.99F, 0.995F, 0.99F, 0.5F}).clipped);
        CHECK(flaws_in({-0.5F, -1.0F, -1.0F, -1.0F, 0.5F}).clipped);
    }
    TEST_CASE("flat tops at one value are clipped wherever the limit lay") {
        CHECK(flaws_in(low_note(0.8, 0.6)).clipped);
        CHECK(flaws_in(low_note(0.3, 0.2)).clipped);
    }
    TEST_CASE("a clean low note in 16 bits is not clipped, however slow its tops") {
        for (const double amplitude : {0.01, 0.1, 0.2, 0.5, 0.95})
            CHECK(!flaws_in(low_note(amplitude, 1.0)).clipped);
    }
    TEST_CASE("where the stream is cut makes no difference to a run") {
        const std::vector<float> samples{0.1F, 0.99F, 0.99F, 0.99F, 0.2F};
        for (std::size_t cut = 0; cut <= samples.size(); ++cut) {
            InputCheck check;
            std::vector<float> clean(samples.size());
            const auto first = check.copy_clean(std::span{samples}.first(cut), std::span{clean}.first(cut));
            const auto second =
                check.copy_clean(std::span{samples}.subspan(cut), std::span{clean}.subspan(cut));
            CHECK((first.clipped || second.clipped));
            CHECK(clean == samples);
        }
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("NaN, infinity and a million times full scale become zeros and are told") {
        const float no_numbers[] = {std::numeric_limits<float>::quiet_NaN(),
                                    std::numeric_limits<float>::infinity(),
                                    -std::numeric_limits<float>::infinity(), 2e6F, -2e6F};
        for (const float no_number : no_numbers) {
            std::vector<float> samples(40, 0.25F);
            samples[20] = no_number;
            std::vector<float> clean(samples.size());
            InputCheck check;
            CHECK(check.copy_clean(samples, clean).not_finite);
            samples[20] = 0.0F;
            CHECK(clean == samples);
        }
        CHECK(!flaws_in(std::vector<float>(40, 0.25F)).not_finite);
    }
}

}  // namespace midspan::test
