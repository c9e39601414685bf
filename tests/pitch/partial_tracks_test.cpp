// partial_tracks_test.cpp: which partials of a note are followed.
//
// Room: tests/pitch.
#include "pitch/partial_tracks.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>
#include <vector>

#include "pitch/given_pluck.hpp"
#include "support/plucked_string.hpp"

namespace midspan::test {
namespace {

constexpr double lowest = 82.407;  // Hz

std::vector<int> followed(GivenPluck& given) {
    PartialTracks tracks;
    tracks.follow(given.pluck().usable(), GivenPluck::sample_rate, Hertz{lowest});
    std::vector<int> numbers;
    for (const PartialTrack& track : tracks.tracks()) {
        numbers.push_back(track.number);
        CHECK(track.values.size() == tracks.length());
    }
    return numbers;
}

PluckedString bright_string() {
    PluckedString string;
    string.fundamental = Hertz{lowest};
    string.inharmonicity = 6e-5;
    string.partials = 30;
    string.loss_rise = 0.0;
    return string;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("the lowest five partials are followed, and of the others those that tell most") {
        GivenPluck given{bright_string()};
        const std::vector<int> numbers = followed(given);
        REQUIRE(numbers.size() == PartialTracks::most_partials);
        CHECK(std::is_sorted(numbers.begin(), numbers.end()));
        for (std::size_t i = 0; i < 5; ++i)
            CHECK(numbers[i] == static_cast<int>(i + 1));
        // As the square of k they tell more the higher they are, where they die no faster.
        CHECK(numbers.back() > 12);
        CHECK(numbers.back() <= static_cast<int>(PartialTracks::most_heard));
    }
    TEST_CASE("where low partials stand off the law the lowest twelve are followed") {
        GivenPluck given{bright_string()};
        // Every other partial five cents sharp: no stiffness makes that.
        std::fill(given.sound.begin(), given.sound.end(), 0.0);
        for (int k = 1; k <= 30; ++k) {
            const double f = k * lowest * (k % 2 == 0 ? 1.003 : 1.0);
            for (std::size_t i = 0; i < given.sound.size(); ++i) {
                const double t = static_cast<double>(i) / GivenPluck::sample_rate.value();
                given.sound[i] += 0.1 / k * std::sin(2.0 * std::numbers::pi * f * t);
            }
        }
        const std::vector<int> numbers = followed(given);
        REQUIRE(numbers.size() == PartialTracks::most_partials);
        CHECK(numbers.back() == 12);
    }
}

}  // namespace midspan::test
