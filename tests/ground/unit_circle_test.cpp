// unit_circle_test.cpp: sines and cosines against the standard library's, and against each other.
//
// Room: tests/ground.
#include "ground/unit_circle.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <span>
#include <vector>

#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

struct Points {
    std::vector<double> cosines;
    std::vector<double> sines;
};

Points points_at(std::span<const double> turns) {
    Points points{std::vector<double>(turns.size()), std::vector<double>(turns.size())};
    on_unit_circle(turns, points.cosines, points.sines);
    return points;
}

std::vector<double> some_turns(std::size_t count, double furthest) {
    RandomNumbers random{count};
    std::vector<double> turns(count);
    for (double& turn : turns)
        turn = random.uniform(-furthest, furthest);
    return turns;
}

}  // namespace

TEST_SUITE("published values") {
    TEST_CASE("a twelfth, an eighth and a quarter of a turn, as every table of sines has them") {
        const std::array<double, 4> turns{1.0 / 12.0, 1.0 / 8.0, 1.0 / 4.0, 1.0 / 2.0};
        const std::array<double, 4> cosines{std::sqrt(3.0) / 2.0, std::sqrt(0.5), 0.0, -1.0};
        const std::array<double, 4> sines{0.5, std::sqrt(0.5), 1.0, 0.0};
        const Points points = points_at(turns);
        for (std::size_t i = 0; i < turns.size(); ++i) {
            CHECK(std::abs(points.cosines[i] - cosines[i]) < 1e-13);
            CHECK(std::abs(points.sines[i] - sines[i]) < 1e-13);
        }
    }
    TEST_CASE("the standard library's sine and cosine, within a turn and far from it") {
        for (const double furthest : {0.5, 3.0, 1e4}) {
            const auto turns = some_turns(2000, furthest);
            const Points points = points_at(turns);
            double off = 0.0;
            for (std::size_t i = 0; i < turns.size(); ++i) {
                // Whole turns are taken away exactly; 2 pi times many of them is not exact.
                const double angle = 2.0 * std::numbers::pi * std::remainder(turns[i], 1.0);
                off = std::max({off, std::abs(points.cosines[i] - std::cos(angle)),
                                std::abs(points.sines[i] - std::sin(angle))});
            }
            CHECK(off < 1e-13);
        }
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a point is the same to the last bit alone and among others, whatever registers are at hand") {
        const auto turns = some_turns(103, 5.0);
        const Points all = points_at(turns);
        for (std::size_t i = 0; i < turns.size(); ++i) {
            const Points one = points_at(std::span{turns}.subspan(i, 1));
            CHECK(one.cosines[0] == all.cosines[i]);
            CHECK(one.sines[0] == all.sines[i]);
        }
    }
    TEST_CASE("whole turns change nothing, back is back") {
        const auto turns = some_turns(64, 0.5);
        std::vector<double> further(turns);
        std::vector<double> back(turns);
        for (std::size_t i = 0; i < turns.size(); ++i) {
            further[i] += 1024.0;
            back[i] = -turns[i];
        }
        const Points here = points_at(turns);
        const Points there = points_at(further);
        const Points opposite = points_at(back);
        for (std::size_t i = 0; i < turns.size(); ++i) {
            CHECK(std::abs(there.sines[i] - here.sines[i]) < 1e-12);
            CHECK(std::abs(there.cosines[i] - here.cosines[i]) < 1e-12);
            CHECK(opposite.sines[i] == -here.sines[i]);
            CHECK(opposite.cosines[i] == here.cosines[i]);
        }
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("nothing gives nothing, and what is no number stays none and by itself") {
        CHECK(points_at({}).sines.empty());
        const std::array<double, 6> turns{0.1, std::numeric_limits<double>::quiet_NaN(),
                                          0.2, std::numeric_limits<double>::infinity(),
                                          0.3, 0.4};
        const Points points = points_at(turns);
        for (std::size_t i = 0; i < turns.size(); ++i) {
            CHECK(std::isfinite(points.cosines[i]) == std::isfinite(turns[i]));
            CHECK(std::isfinite(points.sines[i]) == std::isfinite(turns[i]));
        }
    }
}

}  // namespace midspan::test
