// verdict.hpp: good enough, move, or measure again.
//
// Room: advice. Pure. May include: ground.
#pragma once

#include <string_view>

#include "midspan/uncertain.hpp"
#include "midspan/units.hpp"

namespace midspan {

enum class Verdict { in_tolerance, move, measure_again };

/// As `--json` spells it.
[[nodiscard]] std::string_view verdict_name(Verdict verdict);

/// Common practice, no source: careful technicians aim within 1 to 2 cents; ears resolve 2 to 5.
inline constexpr Cents default_tolerance{1.5};

/// Decides with a guard band of U = 2 u on either side of the tolerance T, as in JCGM 106:2012:
///
///     |error| + U <= T   in_tolerance
///     |error| - U >  T   move
///     otherwise          measure_again
///
/// So a move is never asked for that the reading cannot resolve. tolerance > 0.
[[nodiscard]] Verdict decide(Uncertain<Cents> error, Cents tolerance);

}  // namespace midspan
