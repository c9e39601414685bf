// neck_shapes.hpp: what saddle, nut, relief, a fret and an uneven string do to the notes along a neck.
//
// Room: comparison. Pure. May include: ground, instrument.
#pragma once

#include <vector>

#include "midspan/comparison/neck_survey.hpp"

namespace midspan {

/// 1200 / ln 2: cents for a small relative change of frequency.
inline constexpr double cents_per_unit = 1731.2340490667561;

/// g = 2^(n/12) - 1: how much of a saddle's fault reaches fret n, compared with the 12th.
[[nodiscard]] double saddle_share(int fret);

/// Cents a millimetre of nut edge is worth on every fret, and of saddle at the 12th: C / L.
[[nodiscard]] double cents_per_millimetre(const SurveyedString& string);

/// Cents a millimetre of shifted contact line is worth on a fret: C 2^(n/12) / L.
[[nodiscard]] double fret_cents_per_millimetre(const SurveyedString& string, int fret);

/// Tension added when the string is pressed down, in cents per square millimetre of height:
///
///     K = (C / 4) (EA / T) / L^2,   EA / T = E / (rho (2 L f)^2) of a plain steel string
///
/// where that is at most 300; above it the string is wound, or a plain third, and 270 is usual.
/// E = 207 GPa, rho = 7850 kg/m^3. Wrong by up to a third where the make is not known.
[[nodiscard]] double stretch_per_square_millimetre(const SurveyedString& string);

/// What each of `too_high` millimetres of height over the nut adds: K ((2 b + too_high) / g + 2 H), with b =
/// 0.5 and H = 3.6 mm the usual heights over the fret line at nut and saddle. Stretch goes with the square of
/// the height, so that the second half millimetre does more than the first.
[[nodiscard]] double nut_height_effect(const SurveyedString& string, int fret, double too_high = 0.0);

/// What stretch leaves over a straight nut on any neck, but for what a saddle removes: K (b^2 / g + 2 b H).
[[nodiscard]] double usual_stretch(const SurveyedString& string, int fret);

/// What one millimetre of relief, a parabola between frets 1 and 17, adds: 4 K L^2 h s / (2 x (L - x)) x 2,
/// with h the height of the string over that fret and s the share of the bow there.
[[nodiscard]] double relief_effect(const SurveyedString& string, int fret);

/// What each millimetre adds by which the finger presses behind the fret: K ((b + g H) 2^(n/12) / g)^2 / L.
///
/// Source: the term in d of Q_n, Anderson & Beausoleil 2024.
[[nodiscard]] double finger_effect(const SurveyedString& string, int fret);

/// What a string shows whose mass along it is rho (1 + a cos(k pi x / L)), for a = 1: to first order
///
///     e = (C / 2) (m_0 - m_n),   m_n = (2 / l_n) integral over the sounding part of cos sin^2 (pi (x - x_n)
///     / l_n)
///
/// Source: Rayleigh's principle for a string with a little uneven mass; own derivation.
[[nodiscard]] double uneven_mass_effect(int k, int fret);

}  // namespace midspan
