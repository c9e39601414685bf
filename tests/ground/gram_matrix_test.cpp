// gram_matrix_test.cpp: sums of products of functions in pairs.
//
// Room: tests/ground.
#include "ground/gram_matrix.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <span>
#include <vector>

#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

std::vector<GramRow> some_rows(std::size_t count) {
    RandomNumbers random{count + 1};
    std::vector<GramRow> rows(count);
    for (GramRow& row : rows) {
        for (double& value : row)
            value = random.uniform(-1.0, 1.0);
    }
    return rows;
}

}  // namespace

TEST_SUITE("published values") {
    TEST_CASE("cosines of different whole numbers of periods have nothing in common") {
        // The orthogonality of the discrete cosines: N/2 each with itself, N for the constant, from memory.
        constexpr std::size_t count = 64;
        std::vector<GramRow> rows(count);
        for (std::size_t m = 0; m < count; ++m) {
            for (std::size_t i = 0; i < gram_functions; ++i)
                rows[m][i] = std::cos(2.0 * std::numbers::pi * static_cast<double>(i * m) / count);
        }
        const auto matrix = gram_matrix(rows);
        for (std::size_t i = 0; i < gram_functions; ++i) {
            for (std::size_t j = 0; j < gram_functions; ++j) {
                const double expected = i != j ? 0.0 : i == 0 ? 64.0 : 32.0;
                CHECK(std::abs(matrix[i][j] - expected) < 1e-11);
            }
        }
    }
}

TEST_SUITE("properties") {
    TEST_CASE("the sums are those of plain loops to the last bit, whatever registers the processor has") {
        for (const std::size_t count : {0U, 1U, 2U, 7U, 100U}) {
            const auto rows = some_rows(count);
            const auto matrix = gram_matrix(rows);
            for (std::size_t i = 0; i < gram_functions; ++i) {
                for (std::size_t j = 0; j < gram_functions; ++j) {
                    double sum = 0.0;
                    for (const GramRow& row : rows) {
                        const double product = row[i] * row[j];
                        sum += product;
                    }
                    CHECK(matrix[i][j] == sum);
                }
            }
        }
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("what is no number spoils what it takes part in, and nothing else") {
        auto rows = some_rows(10);
        rows[3][5] = std::numeric_limits<double>::quiet_NaN();
        const auto matrix = gram_matrix(rows);
        for (std::size_t i = 0; i < gram_functions; ++i) {
            for (std::size_t j = 0; j < gram_functions; ++j)
                CHECK(std::isnan(matrix[i][j]) == (i == 5 || j == 5));
        }
    }
}

}  // namespace midspan::test
