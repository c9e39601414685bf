// saddle_places.hpp: the places of saddle and nut that leave least error, for single saddles and shared ones.
//
// Room: comparison. Pure. May include: ground, instrument.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "midspan/comparison/neck_survey.hpp"

namespace midspan {

/// The error of one note, on its way into a least-squares fit.
struct WeightedError {
    int fret;
    double error;        // cents
    double uncertainty;  // cents, standard
    double weight;       // >= 0
};

/// The saddle move d that makes the sum of w (e - C g d / L)^2 least; its uncertainty follows from those of
/// the errors. Without a weight anywhere it is 0 with an infinite uncertainty.
[[nodiscard]] Uncertain<Millimetres> best_saddle(const SurveyedString& string,
                                                 std::span<const WeightedError> errors);

/// Saddle move d and nut move t that make the sum of w (e - C (g d + t) / L)^2 least, and with 4 frets or
/// more the nut's height from a third shape. `left` counts as weighted. Nothing where the frets tell the
/// nut's place from the saddle's no better than to 0.5 mm.
[[nodiscard]] std::optional<SaddleAndNut> best_saddle_and_nut(const SurveyedString& string,
                                                              std::span<const WeightedError> errors);

/// Root of the weighted mean of (e - C (g d + t) / L)^2.
[[nodiscard]] double error_left(const SurveyedString& string, std::span<const WeightedError> errors,
                                Millimetres saddle, Millimetres nut);

/// The moves a bridge of that kind allows which make the weighted squares of all strings together least; one
/// a string. For one piece the moves lie on a straight line over the strings, which are taken to be evenly
/// spaced.
[[nodiscard]] std::vector<Millimetres> best_on_bridge(std::span<const SurveyedString> strings,
                                                      std::span<const std::vector<WeightedError>> errors,
                                                      SaddleSharing bridge);

}  // namespace midspan
