// unit_circle.hpp: points on the unit circle, many at a time.
//
// Room: ground. Pure. May include: nothing.
#pragma once

#include <span>

namespace midspan {

/// The cosine and the sine of 2 pi times each of `turns`, right to 1e-13.
///
/// turns   up to 1e9 either way; what is no number comes out as none
///
/// Every fit asks for a point of every value, and the standard library gives one at a time.
void on_unit_circle(std::span<const double> turns, std::span<double> cosines, std::span<double> sines);

}  // namespace midspan
