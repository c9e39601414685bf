// time_bases_test.cpp: the functions of time that a string's unknowns multiply, against the law they come
// from.
#include "pitch/time_bases.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace midspan::test {
namespace {

/// Tracks of a steady 220 Hz tone: only their times matter here.
PartialTracks tracks_of_a_tone() {
    std::vector<float> samples(24'000);
    for (std::size_t i = 0; i < samples.size(); ++i) {
        samples[i] =
            static_cast<float>(std::sin(2.0 * std::numbers::pi * 220.0 * static_cast<double>(i) / 12'000.0));
    }
    PartialTracks tracks;
    tracks.follow(samples, Hertz{12'000.0}, Hertz{220.0});
    return tracks;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("the bases are the derivatives of the string law") {
        const PartialTracks tracks = tracks_of_a_tone();
        REQUIRE(tracks.length() > 20);
        constexpr double log_time = -0.3;
        constexpr double step = 1e-5;
        TimeBases bases;
        bases.lay_out(tracks, tracks.length());
        bases.set_log_glide_time(log_time);
        const auto elapsed = [](double t, double glide, double log_glide_time) {
            StringLaw law;
            law.glide = glide;
            law.log_glide_time = log_glide_time;
            return law.elapsed(t);
        };
        for (std::size_t m = 0; m < tracks.length(); ++m) {
            const double t = tracks.time(m);
            CAPTURE(t);
            const TimeBases::AtOnce& base = bases.at(m);
            CHECK(base[TimeBases::one] == 1.0);
            CHECK(base[TimeBases::time] == t);
            // Seconds, for a unit of glide.
            CHECK(std::abs(base[TimeBases::ahead] - (elapsed(t, 1.0, log_time) - t)) < 1e-12);
            const double by_log_time =
                (elapsed(t, 1.0, log_time + step) - elapsed(t, 1.0, log_time - step)) / (2.0 * step);
            CHECK(std::abs(base[TimeBases::by_log_time] - by_log_time) < 1e-8);
        }
    }
    TEST_CASE(
        "weighed sums are those of the bases and of their products, over as many values as there are "
        "weights") {
        const PartialTracks tracks = tracks_of_a_tone();
        TimeBases bases;
        bases.lay_out(tracks, tracks.length());
        bases.drive_fast_glide(std::array{TimeBases::Driver{1.0, 2.0}, TimeBases::Driver{0.5, 5.0}});
        bases.set_log_glide_time(0.2);
        const std::vector<double> some{0.5, -1.0, 2.0, 0.25, 3.0};
        const std::vector<double> others{1.5, 0.5, -0.25, 4.0, 1.0};
        const TimeBases::Weights<2> weights{some, others};
        const auto products = bases.weighed(weights);
        const auto sums = bases.weighed_once(weights);
        CHECK(bases.weighed(TimeBases::Weights<1>{others})[0] == products[1]);
        for (std::size_t row = 0; row < 2; ++row) {
            CAPTURE(row);
            for (std::size_t i = 0; i < TimeBases::bases; ++i) {
                CAPTURE(i);
                double once = 0.0;
                for (std::size_t m = 0; m < some.size(); ++m)
                    once += weights[row][m] * bases.at(m)[i];
                CHECK(std::abs(sums[row][i] - once) < 1e-12);
                for (std::size_t j = 0; j < TimeBases::bases; ++j) {
                    CAPTURE(j);
                    double both = 0.0;
                    for (std::size_t m = 0; m < some.size(); ++m)
                        both += weights[row][m] * bases.at(m)[i] * bases.at(m)[j];
                    CHECK(std::abs(products[row][TimeBases::pair(i, j)] - both) < 1e-12);
                }
            }
        }
    }
}

}  // namespace midspan::test
