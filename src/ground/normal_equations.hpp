// normal_equations.hpp: symmetric equations whose first unknowns are eliminated.
//
// Room: ground. Pure. May include: nothing.
#pragma once

#include <array>
#include <cassert>
#include <cstddef>
#include <span>

#include "ground/widest_registers.hpp"

namespace midspan {

/// The normal equations of least squares, of so many unknowns at most: a symmetric, positive definite matrix,
/// of which the upper triangle is kept, and a right side.
///
/// The first unknowns may be eliminated (Gauss, without pivots, which such a matrix does not need), in the
/// same order of sums whatever the width of the processor's registers. What is singular leaves no numbers.
template <std::size_t Unknowns>
class NormalEquations {
public:
    /// What unknown i has in common with unknown j, i <= j.
    [[nodiscard]] double& at(std::size_t i, std::size_t j) {
        assert(i <= j && j < Unknowns);
        return rows_[i][j];
    }
    [[nodiscard]] double at(std::size_t i, std::size_t j) const {
        assert(i <= j && j < Unknowns);
        return rows_[i][j];
    }
    [[nodiscard]] double& right(std::size_t i) { return rows_[i][right_side]; }
    [[nodiscard]] double right(std::size_t i) const { return rows_[i][right_side]; }

    void clear() { rows_ = {}; }

    /// Adds what `others` leave to their last unknowns, as many as these are, once the first are eliminated.
    template <std::size_t Others>
    void add_rest(const NormalEquations<Others>& others, std::size_t first) {
        for (std::size_t i = 0; i < Unknowns; ++i) {
            right(i) += others.right(first + i);
            for (std::size_t j = i; j < Unknowns; ++j)
                at(i, j) += others.at(first + i, first + j);
        }
    }

    /// Leaves the equations of the others, up to `all`, as they are once the first so many unknowns follow
    /// them as suits those best. Beforehand each of their own places on the diagonal grows by `damping`,
    /// relative.
    void eliminate(std::size_t first, std::size_t all, double damping) {
        assert(first <= all && all <= Unknowns);
        in_widest_registers([&] {
            for (std::size_t k = 0; k < first; ++k)
                rows_[k][k] *= 1.0 + damping;
            for (std::size_t k = 0; k < first; ++k) {
                const double per_pivot = 1.0 / rows_[k][k];
                for (std::size_t i = k + 1; i < all; ++i)
                    subtract(rows_[i], rows_[k][i] * per_pivot, rows_[k], i);
            }
        });
    }

    /// By how much the first unknowns' elimination lowers the sum of squares, the others at nothing.
    [[nodiscard]] double fall(std::size_t first) const {
        double sum = 0.0;
        for (std::size_t k = 0; k < first; ++k)
            sum += right(k) * right(k) / rows_[k][k];
        return sum;
    }

    /// Fills in the first unknowns, once eliminated, beside the others, which begin at place `first`.
    void follow(std::span<double> unknowns, std::size_t first) const {
        for (std::size_t k = first; k-- > 0;) {
            double left = right(k);
            for (std::size_t j = k + 1; j < unknowns.size(); ++j)
                left -= rows_[k][j] * unknowns[j];
            unknowns[k] = left / rows_[k][k];
        }
    }

    /// Column i of the matrix's inverse: of a weighted fit what unknown i varies by with each.
    [[nodiscard]] std::array<double, Unknowns> inverse_column(std::size_t i) const {
        NormalEquations unit = *this;
        for (std::size_t k = 0; k < Unknowns; ++k)
            unit.right(k) = k == i ? 1.0 : 0.0;
        unit.eliminate(Unknowns, Unknowns, 0.0);
        std::array<double, Unknowns> column{};
        unit.follow(column, Unknowns);
        return column;
    }

private:
    // Four to a register; behind the unknowns, in the last place, stands the right side.
    static constexpr std::size_t width = Unknowns / 4 * 4 + 4;
    static constexpr std::size_t right_side = width - 1;
    using Row = std::array<double, width>;

    // From the fours on that place `from` lies in: what that spoils lies left of the diagonal.
    static void subtract(Row& row, double factor, const Row& other, std::size_t from) {
        for (std::size_t j = from / 4 * 4; j < width; j += 4) {
            FourDoubles mine, theirs;
            load(mine, &row[j]);
            load(theirs, &other[j]);
            store(mine - factor * theirs, &row[j]);
        }
    }

    std::array<Row, Unknowns> rows_{};
};

}  // namespace midspan
