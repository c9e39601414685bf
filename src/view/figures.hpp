// figures.hpp: numbers as people read them, the same in every locale.
//
// Room: view. Pure. May include: ground.
#pragma once

#include <string>
#include <string_view>

#include "midspan/units.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

enum class Sign { when_negative, always };

/// Decimals a value with the expanded uncertainty `expanded` deserves: the uncertainty is written with one
/// significant digit, with two when it begins with 1 or 2 (common practice after GUM 7.2.6, JCGM 100), and
/// never finer than 0.001. Negative: to tens, hundreds.
[[nodiscard]] int decimals_for(double expanded);

/// `value` rounded to `decimals`; never "-0".
[[nodiscard]] std::string rounded(double value, int decimals, Sign sign = Sign::when_negative);

/// "2.20 +- 0.12": value and expanded uncertainty rounded to the same place; an uncertainty below 0.001 is
/// written as 0.001.
[[nodiscard]] std::string with_uncertainty(double value, double expanded, std::string_view plus_minus,
                                           Sign sign);

/// "±", or what stands for it where there is only ASCII.
[[nodiscard]] std::string_view plus_minus(const Look& look);

/// "1:11": minutes and whole seconds, as a player's display counts.
[[nodiscard]] std::string minutes_and_seconds(Seconds time);

}  // namespace midspan
