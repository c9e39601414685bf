// normal_equations_test.cpp: symmetric equations whose first unknowns are eliminated.
//
// Room: tests/ground.
#include "ground/normal_equations.hpp"

#include <doctest/doctest.h>

#include <Eigen/Cholesky>
#include <Eigen/Core>
#include <Eigen/LU>
#include <array>
#include <cmath>
#include <cstddef>
#include <vector>

#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

constexpr std::size_t unknowns = 7;

struct SameEquations {
    NormalEquations<unknowns> ours;
    Eigen::MatrixXd matrix;
    Eigen::VectorXd right;
};

// Of least squares over a few random rows more than there are unknowns.
SameEquations some_equations(std::size_t seed) {
    RandomNumbers random{seed};
    const Eigen::MatrixXd rows =
        Eigen::MatrixXd::NullaryExpr(12, unknowns, [&] { return random.uniform(-1.0, 1.0); });
    const Eigen::VectorXd values =
        Eigen::VectorXd::NullaryExpr(12, [&] { return random.uniform(-1.0, 1.0); });
    SameEquations same{{}, rows.transpose() * rows, rows.transpose() * values};
    for (std::size_t i = 0; i < unknowns; ++i) {
        const auto row = static_cast<Eigen::Index>(i);
        same.ours.right(i) = same.right(row);
        for (std::size_t j = i; j < unknowns; ++j)
            same.ours.at(i, j) = same.matrix(row, static_cast<Eigen::Index>(j));
    }
    return same;
}

}  // namespace

TEST_SUITE("published values") {
    TEST_CASE("a line through three points, its height eliminated first") {
        // C + D t closest to 6, 0, 0 at t = 0, 1, 2: of 3 C + 3 D = 6 and 3 C + 5 D = 0 come C = 5 and
        // D = -3 (G. Strang, Introduction to Linear Algebra, section 4.3, from memory).
        NormalEquations<2> line;
        line.at(0, 0) = 3.0;
        line.at(0, 1) = 3.0;
        line.at(1, 1) = 5.0;
        line.right(0) = 6.0;
        line.right(1) = 0.0;
        line.eliminate(1, 2, 0.0);
        CHECK(line.at(1, 1) == doctest::Approx(2.0));
        CHECK(line.right(1) == doctest::Approx(-6.0));
        std::vector<double> both{0.0, line.right(1) / line.at(1, 1)};
        line.follow(both, 1);
        CHECK(both[0] == doctest::Approx(5.0));
        CHECK(both[1] == doctest::Approx(-3.0));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("however many are eliminated first, the answer is that of another library") {
        for (std::size_t first = 0; first <= unknowns; ++first) {
            CAPTURE(first);
            const SameEquations same = some_equations(first + 1);
            const Eigen::VectorXd expected = same.matrix.ldlt().solve(same.right);
            NormalEquations<unknowns> rest = same.ours;
            rest.eliminate(first, unknowns, 0.0);
            NormalEquations<unknowns> all = same.ours;
            all.eliminate(unknowns, unknowns, 0.0);
            std::vector<double> found(unknowns);
            all.follow(found, unknowns);
            for (std::size_t i = 0; i < first; ++i)
                found[i] = 0.0;
            rest.follow(found, first);
            for (std::size_t i = 0; i < unknowns; ++i)
                CHECK(found[i] == doctest::Approx(expected(static_cast<Eigen::Index>(i))));
            // With all of them at their best the sum of squares falls by right side times answer.
            CHECK(all.fall(unknowns) == doctest::Approx(same.right.dot(expected)));
        }
    }

    TEST_CASE("damping makes the eliminated unknowns' own places larger, as if they were believed") {
        const SameEquations same = some_equations(3);
        constexpr double damping = 0.25;
        Eigen::MatrixXd damped = same.matrix;
        damped.diagonal().head(4) *= 1.0 + damping;
        const Eigen::VectorXd expected = damped.ldlt().solve(same.right);
        NormalEquations<unknowns> ours = same.ours;
        ours.eliminate(4, unknowns, damping);
        std::vector<double> found(unknowns);
        for (std::size_t i = 4; i < unknowns; ++i)
            found[i] = expected(static_cast<Eigen::Index>(i));
        ours.follow(found, 4);
        for (std::size_t i = 0; i < 4; ++i)
            CHECK(found[i] == doctest::Approx(expected(static_cast<Eigen::Index>(i))));
    }

    TEST_CASE("what two sets leave to unknowns they share is solved as all their equations together are") {
        constexpr std::size_t own = 4, shared = unknowns - own;
        const std::array<SameEquations, 2> sets{some_equations(11), some_equations(12)};
        constexpr Eigen::Index of_one = own, of_both = shared, all = 2 * own + shared;
        Eigen::MatrixXd matrix = Eigen::MatrixXd::Zero(all, all);
        Eigen::VectorXd right = Eigen::VectorXd::Zero(all);
        NormalEquations<shared> ours;
        ours.right(0) = 5.0;
        ours.clear();
        for (std::size_t i = 0; i < 2; ++i) {
            const Eigen::Index at = static_cast<Eigen::Index>(i) * of_one;
            const auto& set = sets[i];
            matrix.block(at, at, of_one, of_one) = set.matrix.topLeftCorner(of_one, of_one);
            matrix.block(at, all - of_both, of_one, of_both) = set.matrix.topRightCorner(of_one, of_both);
            matrix.block(all - of_both, at, of_both, of_one) = set.matrix.bottomLeftCorner(of_both, of_one);
            matrix.bottomRightCorner(of_both, of_both) += set.matrix.bottomRightCorner(of_both, of_both);
            right.segment(at, of_one) = set.right.head(of_one);
            right.tail(of_both) += set.right.tail(of_both);
            NormalEquations<unknowns> followed = set.ours;
            followed.eliminate(own, unknowns, 0.0);
            ours.add_rest(followed, own);
        }
        const Eigen::VectorXd expected = matrix.ldlt().solve(right);
        NormalEquations<shared> solved = ours;
        solved.eliminate(shared, shared, 0.0);
        std::vector<double> found(shared);
        solved.follow(found, shared);
        const Eigen::MatrixXd inverse = matrix.inverse();
        for (std::size_t i = 0; i < shared; ++i) {
            const Eigen::Index row = all - of_both + static_cast<Eigen::Index>(i);
            CHECK(found[i] == doctest::Approx(expected(row)));
            const auto column = ours.inverse_column(i);
            for (std::size_t j = 0; j < shared; ++j)
                CHECK(column[j] ==
                      doctest::Approx(inverse(all - of_both + static_cast<Eigen::Index>(j), row)));
        }
    }

    TEST_CASE("unknowns beyond those in use are left alone") {
        SameEquations same = some_equations(5);
        const NormalEquations<unknowns> before = same.ours;
        same.ours.eliminate(2, 4, 0.0);
        CHECK(same.ours.at(5, 6) == before.at(5, 6));
        CHECK(same.ours.right(6) == before.right(6));
        CHECK(same.ours.at(3, 3) != before.at(3, 3));
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("singular equations leave no numbers rather than wrong ones") {
        NormalEquations<2> none;
        none.right(0) = 1.0;
        none.eliminate(1, 2, 0.0);
        std::vector<double> both{0.0, 1.0};
        none.follow(both, 1);
        CHECK_FALSE(std::isfinite(both[0]));
    }
}

}  // namespace midspan::test
