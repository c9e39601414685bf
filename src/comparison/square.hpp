// square.hpp: a square, for formulas in which the thing to square is long.
//
// Room: comparison. Pure. May include: nothing.
#pragma once

namespace midspan {

[[nodiscard]] constexpr double square(double v) { return v * v; }

}  // namespace midspan
