// power_curve_test.cpp: the size noticed in so many surveys, of curves whose truth is known.
#include "benchmark/power_curve.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <vector>

#include "support/random_numbers.hpp"

namespace midspan::benchmark {
namespace {

/// Surveys of a fault that is noticed once it stands 3.1 standard deviations of 0.1 mm out.
std::vector<PowerPoint> surveyed(int each, std::uint64_t seed) {
    test::RandomNumbers random{seed};
    std::vector<PowerPoint> points;
    for (const double size : {0.2, 0.3, 0.35, 0.4, 0.5}) {
        PowerPoint point{size, each, 0};
        for (int i = 0; i < each; ++i)
            point.noticed += size / 0.1 + random.normal() > 3.1 ? 1 : 0;
        points.push_back(point);
    }
    return points;
}

constexpr double noticed_in_95 = (3.1 + 1.6449) * 0.1;

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("of very many surveys the curve is the one they were drawn from") {
        const auto curve = power_curve(surveyed(20'000, 3));
        REQUIRE(curve.has_value());
        CHECK(curve->slope == doctest::Approx(10.0).epsilon(0.02));
        CHECK(curve->threshold == doctest::Approx(3.1).epsilon(0.02));
        CHECK(std::abs(curve->size_noticed_in(0.95) - noticed_in_95) < 0.003);
        CHECK(std::abs(curve->size_noticed_in(0.5) - 0.31) < 0.003);
    }
}

TEST_SUITE("properties") {
    TEST_CASE(
        "of a hundred surveys the size lies within two of its uncertainties in 9 of 10 cases and more") {
        int within_two = 0;
        constexpr int cases = 200;
        for (std::uint64_t seed = 1; seed <= cases; ++seed) {
            const auto curve = power_curve(surveyed(20, seed));
            REQUIRE(curve.has_value());
            const double off = curve->size_noticed_in(0.95) - noticed_in_95;
            within_two += std::abs(off) <= 2.0 * curve->uncertainty_of_size(0.95) ? 1 : 0;
            CHECK(curve->uncertainty_of_size(0.95) < 0.06);
        }
        CHECK(within_two >= 0.9 * cases);
    }
    TEST_CASE("more surveys, less uncertainty") {
        const auto few = power_curve(surveyed(20, 8));
        const auto many = power_curve(surveyed(80, 8));
        REQUIRE(few.has_value());
        REQUIRE(many.has_value());
        CHECK(many->uncertainty_of_size(0.95) < few->uncertainty_of_size(0.95));
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("without surveys, or with none of a size, there is no curve") {
        CHECK_FALSE(power_curve({}).has_value());
        const std::array nothing{PowerPoint{0.0, 50, 0}};
        CHECK_FALSE(power_curve(nothing).has_value());
    }
    TEST_CASE("where every survey noticed the fault, or none, the curve stays one of numbers") {
        for (const int noticed : {0, 5}) {
            const std::array points{PowerPoint{0.2, 5, noticed}, PowerPoint{0.4, 5, noticed}};
            const auto curve = power_curve(points);
            if (curve) CHECK(std::isfinite(curve->size_noticed_in(0.95)));
        }
    }
}

}  // namespace midspan::benchmark
