// gram_matrix.hpp: what sixteen functions have in common, each with each.
//
// Room: ground. Pure. May include: nothing.
#pragma once

#include <array>
#include <cstddef>
#include <span>

namespace midspan {

inline constexpr std::size_t gram_functions = 16;

/// Sixteen functions at one place.
using GramRow = std::array<double, gram_functions>;
using GramMatrix = std::array<GramRow, gram_functions>;

/// [i][j]: the sum over all rows of function i times function j (the functions' Gram matrix).
///
/// Summed in the order of the rows, so that the result is the same to the last bit whatever the width of
/// the processor's registers.
[[nodiscard]] GramMatrix gram_matrix(std::span<const GramRow> rows);

}  // namespace midspan
