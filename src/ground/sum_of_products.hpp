// sum_of_products.hpp: what filters and windows do all day.
//
// Room: ground. Pure. May include: nothing.
#pragma once

#include <cstddef>
#include <span>

namespace midspan {

/// Multiples of so many are summed fastest.
inline constexpr std::size_t sums_side_by_side = 16;

/// The sum of a[i] * b[i] over two runs of equal length.
///
/// Sixteen sums are kept side by side and joined in a fixed order, so that the result is the same to the
/// last bit whatever the width of the processor's registers.
[[nodiscard]] float sum_of_products(std::span<const float> a, std::span<const float> b);

}  // namespace midspan
