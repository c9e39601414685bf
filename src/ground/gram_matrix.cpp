// gram_matrix.cpp: sums of products of functions in pairs, in the widest registers at hand.
//
// Room: ground. Pure. May include: nothing.
#include "ground/gram_matrix.hpp"

#include "ground/widest_registers.hpp"

namespace midspan {
namespace {

// Eight functions from i on times the four from j on: as many sums as registers hold.
constexpr std::size_t at_once = 8;
void sum_block(std::span<const GramRow> rows, std::size_t i, std::size_t j, GramMatrix& matrix) {
    std::array<FourDoubles, at_once> sums{};
    for (const GramRow& row : rows) {
        FourDoubles four;
        load(four, &row[j]);
        for (std::size_t k = 0; k < at_once; ++k)
            sums[k] += row[i + k] * four;
    }
    for (std::size_t k = 0; k < at_once; ++k)
        store(sums[k], &matrix[i + k][j]);
}

}  // namespace

GramMatrix gram_matrix(std::span<const GramRow> rows) {
    GramMatrix matrix;
    in_widest_registers([&] {
        for (std::size_t i = 0; i < gram_functions; i += at_once) {
            for (std::size_t j = 0; j < i + at_once; j += 4)
                sum_block(rows, i, j, matrix);
        }
    });
    for (std::size_t i = 0; i < gram_functions; ++i) {
        for (std::size_t j = i + 1; j < gram_functions; ++j)
            matrix[i][j] = matrix[j][i];
    }
    return matrix;
}

}  // namespace midspan
