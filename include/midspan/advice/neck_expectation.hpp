// neck_expectation.hpp: what a neck without a fault shows, of strings and heights that somebody stated.
//
// Room: advice. Pure. May include: ground, instrument, comparison.
#pragma once

#include <optional>
#include <vector>

#include "midspan/comparison/neck_survey.hpp"
#include "midspan/instrument/instrument.hpp"
#include "midspan/instrument/string_make.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// One string and how it lies, as far as it was stated or measured.
struct StatedString {
    int number;
    std::optional<StringGauge> gauge;
    std::optional<Millimetres> action;      ///< open string over fret 12, no capo
    std::optional<Millimetres> nut_height;  ///< of the string over the line of the fret tops
};

struct StatedNeck {
    std::vector<StatedString> strings;  ///< string 1 first, one for each of the instrument
    std::optional<Millimetres> relief;  ///< mid-way between frets 1 and 17
};

/// The height at the nut that the string is judged by: as stated, the usual one at most.
[[nodiscard]] Millimetres judged_nut_height(const StatedString& string);

/// Whether a gauge was stated for any string.
[[nodiscard]] bool strings_stated(const StatedNeck& neck);

/// What survey_neck is to expect of frets 1 to `frets` of every string whose gauge was stated, counted from
/// the open string and without what stiffness alone adds, as a survey measures it:
///
///     e = fretted_error - 600 log2((1 + B 4^(n/12)) / (1 + B))
///
/// Heights that were not stated are the usual ones, and so is the height at the nut where it is higher than
/// usual: that much of it is a fault, and to be found. The saddle stands where the 12th is right, and the
/// finger presses 5 mm behind the fret.
///
/// capo  0: none; else the fret it sits on, from where frets are then counted. It holds the strings on that
///       fret, so that they have no height there; relief is taken as it is, which is wrong by some tenths of
///       a cent.
[[nodiscard]] std::vector<KnownError> expected_errors(const StatedNeck& neck, const Instrument& instrument,
                                                      int capo, int frets);

/// How a string of the neck resists being pressed down, with the same heights; nothing where its gauge was
/// not stated.
[[nodiscard]] std::optional<StringStretch> expected_stretch(const StatedNeck& neck,
                                                            const Instrument& instrument, int capo,
                                                            int string);

/// What is expected of the errors, put into the options of a survey, with what is known of the heights;
/// nothing changes where no gauge was stated.
[[nodiscard]] NeckSurveyOptions expecting(NeckSurveyOptions options, const StatedNeck& neck,
                                          const Instrument& instrument, int capo);

}  // namespace midspan
