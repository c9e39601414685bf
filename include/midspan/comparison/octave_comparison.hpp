// octave_comparison.hpp: fretted notes against 12th-fret harmonics of one string.
//
// Room: comparison. Pure. May include: ground, pitch.
#pragma once

#include <optional>
#include <span>

#include "midspan/comparison/pairing.hpp"
#include "midspan/pitch/pitch_reading.hpp"
#include "midspan/uncertain.hpp"

namespace midspan {

/// How repeatable the fretting was, and from how much evidence that is known.
struct FrettingScatter {
    Cents standard_deviation;   ///< of one pair's error, beyond the fit's own uncertainty
    double degrees_of_freedom;  ///< 0: nothing known but common practice
};

struct OctaveComparison {
    Uncertain<Hertz> harmonic;  ///< mean of the harmonics; uncertainty in hertz, fit and scatter
    Uncertain<Hertz> fretted;
    Cents harmonic_uncertainty;
    Cents fretted_uncertainty;
    int harmonics;
    int fretted_notes;
    Uncertain<Cents> error;  ///< fretted minus harmonic; positive: the fretted note is sharp
    Cents scatter;           ///< observed standard deviation of the single errors; 0 with one pair
    bool scattered;          ///< repeated plucks disagree by much more than fit and other strings explain
};

/// The scatter of one string's pairs; nothing with fewer than two.
[[nodiscard]] std::optional<FrettingScatter> fretting_scatter(std::span<const PitchReading> harmonics,
                                                              std::span<const PitchReading> fretted,
                                                              PluckOrder order);

/// The error of one string: the mean of its pairs (alternate) or the difference of means (grouped), with
/// fit uncertainty and scatter combined as in the GUM (JCGM 100) and widened by Student's t so that
/// plus or minus two standard uncertainties hold 95.45 %.
///
/// others  scatter of the other strings of the same visit, the same hand: it stands in where this string
///         has too few pairs. With neither, one cent is assumed (common practice, no source).
///
/// harmonics and fretted: at least one each; with `alternate` of equal number, in the order heard.
[[nodiscard]] OctaveComparison compare_octave(std::span<const PitchReading> harmonics,
                                              std::span<const PitchReading> fretted, PluckOrder order,
                                              FrettingScatter others);

}  // namespace midspan
