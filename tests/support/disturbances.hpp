// disturbances.hpp: what a workshop adds to a string: noise, hum, thumps, talk, a full-scale stop.
//
// Room: tests/support. May include: ground.
#pragma once

#include <cstdint>
#include <span>

#include "midspan/units.hpp"

namespace midspan::test {

/// The mean square of `sound` between two times.
[[nodiscard]] double mean_square(std::span<const double> sound, Hertz sample_rate, Seconds from, Seconds to);

/// White normal noise of standard deviation `rms`.
void add_white_noise(std::span<double> sound, double rms, std::uint64_t seed);

/// White normal noise `snr` below the signal. SNR here is the mean square of what `sound` holds in the
/// second after `from` (to its end if shorter) against the variance of the noise over the whole band.
void add_white_noise(std::span<double> sound, Hertz sample_rate, Decibels snr, Seconds from,
                     std::uint64_t seed);

/// Noise whose power falls as 1/f from about 10 Hz up, of standard deviation `rms`: low-passed white
/// noises an octave apart, of equal power.
void add_coloured_noise(std::span<double> sound, Hertz sample_rate, double rms, std::uint64_t seed);

/// The same `snr` below the signal, which is meant as it is with white noise.
void add_coloured_noise(std::span<double> sound, Hertz sample_rate, Decibels snr, Seconds from,
                        std::uint64_t seed);

/// Mains hum: `harmonics` of `mains` with amplitudes amplitude / k, from random phases.
void add_hum(std::span<double> sound, Hertz sample_rate, Hertz mains, double amplitude, int harmonics,
             std::uint64_t seed);

void add_dc_offset(std::span<double> sound, double offset);

/// A knock on the body: 90 Hz and 210 Hz dying within 60 ms, and a dull noise. Peaks near `amplitude`.
void add_thump(std::span<double> sound, Hertz sample_rate, Seconds start, double amplitude,
               std::uint64_t seed);

/// A finger along a wound string: a narrow band of noise that sweeps from 1 to 3.5 kHz and back within
/// `duration`. Peaks near `amplitude`.
void add_squeak(std::span<double> sound, Hertz sample_rate, Seconds start, Seconds duration, double amplitude,
                std::uint64_t seed);

/// Something like speech: glottal pulses between 90 and 150 Hz through moving formants, about four
/// syllables a second. Peaks near `amplitude`.
void add_talk(std::span<double> sound, Hertz sample_rate, Seconds start, Seconds duration, double amplitude,
              std::uint64_t seed);

/// A converter that knows no more than `full_scale`.
void clip(std::span<double> sound, double full_scale);

}  // namespace midspan::test
