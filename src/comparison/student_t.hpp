// student_t.hpp: how much wider an uncertainty is when the scatter is known from few repeats.
//
// Room: comparison, private. Pure.
#pragma once

namespace midspan {

/// The share of Student's t distribution that lies within plus or minus `t`.
///
/// t                   >= 0
/// degrees_of_freedom  > 0, need not be whole
[[nodiscard]] double share_within_t(double t, double degrees_of_freedom);

/// The t within which 95.45 % of Student's distribution lies, which is what plus or minus two standard
/// deviations hold of a normal one: 13.97 for one degree of freedom, 2 for very many.
///
/// degrees_of_freedom  >= 1, need not be whole
///
/// Source: JCGM 100:2008 (GUM), G.3 and table G.2; the distribution by the continued fraction of the
/// incomplete beta function (Abramowitz & Stegun 26.5.8, from memory), good to 1e-9.
[[nodiscard]] double t_for_two_sigma(double degrees_of_freedom);

}  // namespace midspan
