// student_t_test.cpp: how much wider few repeats make an uncertainty.
#include "comparison/student_t.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <initializer_list>
#include <numbers>

namespace midspan::test {

TEST_SUITE("published") {
    // JCGM 100:2008 (GUM), table G.2, column p = 95.45 %. Digits from memory; rounded there to 0.005.
    TEST_CASE("GUM table G.2: t for 95.45 % and 1 to 10, 20, 50 and 100 degrees of freedom") {
        struct Row {
            int degrees_of_freedom;
            double t;
        };
        constexpr std::array table{Row{1, 13.97}, Row{2, 4.53},  Row{3, 3.31},   Row{4, 2.87}, Row{5, 2.65},
                                   Row{6, 2.52},  Row{7, 2.43},  Row{8, 2.37},   Row{9, 2.32}, Row{10, 2.28},
                                   Row{20, 2.13}, Row{50, 2.05}, Row{100, 2.025}};
        for (const Row& row : table) {
            CAPTURE(row.degrees_of_freedom);
            CHECK(std::abs(t_for_two_sigma(row.degrees_of_freedom) - row.t) <= 0.0051);
        }
    }
}

TEST_SUITE("physics") {
    // With 1 and 2 degrees of freedom the share is elementary: 2/pi atan t, and t / sqrt(2 + t^2).
    TEST_CASE("the share within t is the elementary one for 1 and 2 degrees of freedom, to 1e-9") {
        for (double t = 0.0; t <= 20.0; t += 0.37) {
            CAPTURE(t);
            CHECK(std::abs(share_within_t(t, 1.0) - 2.0 / std::numbers::pi * std::atan(t)) <= 1e-9);
            CHECK(std::abs(share_within_t(t, 2.0) - t / std::sqrt(2.0 + t * t)) <= 1e-9);
        }
    }
    TEST_CASE("with very many degrees of freedom it is the normal law") {
        for (const double t : {0.5, 1.0, 2.0, 3.0}) {
            CHECK(std::abs(share_within_t(t, 1e6) - std::erf(t / std::numbers::sqrt2)) <= 1e-6);
        }
        CHECK(std::abs(t_for_two_sigma(1e6) - 2.0) <= 1e-4);
    }
}

TEST_SUITE("properties") {
    TEST_CASE("t holds its share, also for degrees of freedom that are not whole, and shrinks as they grow") {
        double before = 100.0;
        for (double degrees_of_freedom = 1.0; degrees_of_freedom < 200.0; degrees_of_freedom *= 1.13) {
            const double t = t_for_two_sigma(degrees_of_freedom);
            CAPTURE(degrees_of_freedom);
            CHECK(std::abs(share_within_t(t, degrees_of_freedom) - std::erf(std::numbers::sqrt2)) <= 1e-9);
            CHECK(t > 2.0);
            CHECK(t < before);
            before = t;
        }
    }
}

}  // namespace midspan::test
