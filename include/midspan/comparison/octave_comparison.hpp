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
    Uncertain<Hertz> harmonic;  ///< mean of the harmonics, the surer ones first; uncertainty in hertz
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
/// Grouped: of either kind, and a kind plucked once is taken to scatter as the other.
[[nodiscard]] std::optional<FrettingScatter> fretting_scatter(std::span<const PitchReading> harmonics,
                                                              std::span<const PitchReading> fretted,
                                                              PluckOrder order);

/// The error of one string: the mean of its pairs (alternate) or the difference of means (grouped), with
/// fit uncertainty and scatter combined as in the GUM (JCGM 100) and widened by Student's t so that
/// plus or minus two standard uncertainties hold 95.45 %:
///
///     u^2 = (t / 2)^2 (nu_o (s_o^2 / n + w^2) + nu s^2 / n) / (nu_o + nu),    at least w^2
///
/// with s the observed scatter of n pairs and nu one less than their number its degrees of freedom (grouped:
/// of Welch and Satterthwaite), s_o and nu_o those of the other strings, w^2 the variance that the fits leave
/// in the mean, and t of nu_o + nu degrees of freedom.
///
/// Notes weigh by how sure their fits are, beside the 0.3 cents that a good hand scatters anyhow (common
/// practice, no source): a note that beats for seconds says little, and two clear ones are worth more than
/// the plain mean of all three. n is as many equally sure pairs as they are worth.
///
/// harmonics  at least one
/// fretted    at least one; with `alternate` as many as harmonics, in the order heard
/// others     scatter of the other strings of the same visit, the same hand: it stands in where this string
///            has few pairs, with at most 4 degrees of freedom. With neither, one cent is assumed and taken
///            as known (common practice, no source).
///
/// The uncertainties of the two frequencies are plain ones, from fit or scatter, whichever is larger, without
/// Student's t; they share drift that cancels in the error.
///
/// `scattered` says: more than 1.5 cents; or more than 0.5 cents and, beyond three sigma, more than fits and
/// other strings explain.
[[nodiscard]] OctaveComparison compare_octave(std::span<const PitchReading> harmonics,
                                              std::span<const PitchReading> fretted, PluckOrder order,
                                              FrettingScatter others);

}  // namespace midspan
