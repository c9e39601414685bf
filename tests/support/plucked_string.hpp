// plucked_string.hpp: a string to pluck, made of its modes, whose pitch is known exactly.
//
// Room: tests/support. May include: ground.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

#include "midspan/units.hpp"

namespace midspan::test {

/// The string's swing across the first plane: nearly the same pitch, another decay.
struct SecondPlane {
    Cents detune{0.0};   ///< of every partial against the first plane
    double ratio = 0.0;  ///< amplitude against the first plane, 0 (no second plane) to below 1
    Seconds decay{0.6};  ///< time constant of its partial 1
    Cents spread{0.0};   ///< standard deviation of every partial's own detune about the common one
};

/// One pluck of a stiff string, as a sum of decaying partials:
///
///     f_k     = k f_0 sqrt(1 + B k^2),  f_0 = fundamental / sqrt(1 + B)
///     a_k     = sin(pi k pluck) sin(pi k pickup) / k^roll_off
///     alpha_k = (1 + loss_rise (k^2 - 1)) / decay
///     f(t)    = f (1 + epsilon exp(-2 t / decay)),  epsilon = 2^(glide / 1200) - 1
///
/// All partials of both planes share the one glide, as they share the tension. The defaults are a quiet
/// string without glide or beating; a test asks for each hardship it wants.
struct PluckedString {
    Hertz fundamental{110.0};      ///< f_1, settled: the lowest sounding partial. This is the truth
    double inharmonicity = 1e-4;   ///< B of this note
    int partials = 30;             ///< k = 1 to here; those above Nyquist are left out
    double pluck_position = 0.19;  ///< fraction of the speaking length
    double pickup_position = 0.11;
    double roll_off = 1.0;
    Seconds decay{0.9};       ///< time constant of partial 1; the time for 60 dB is 6.91 times as long
    double loss_rise = 0.01;  ///< how much faster high partials die
    Cents glide{0.0};         ///< above the settled pitch, at the attack
    SecondPlane second_plane{};
    Cents astray{0.0};  ///< standard deviation of how far partials above the first stand off the law

    /// Weak partials at 1/2, 3/2, 5/2 ... of the note, as a touched harmonic leaves them: the odd modes of
    /// the open string. They lie on the same law as the whole ones, f_h at h = m/2, because mode m of the
    /// open string (f_0 / 2, B / 4) is m/2 f_0 sqrt(1 + B m^2 / 4). The level is theirs against what the
    /// a_k above gives at k = h. Nothing: a fretted or an open note.
    std::optional<Decibels> odd_partials{};

    double amplitude = 0.5;           ///< the sum of all |a_k|: no sample of the tone exceeds it
    double phase_spread = 0.5;        ///< partials start within plus or minus this, rad
    Seconds rise{0.001};              ///< raised-cosine start
    Decibels attack_noise{-30.0};     ///< RMS of the noise at the attack against `amplitude`
    Seconds attack_noise_for{0.002};  ///< its time constant
    Seconds duration{3.0};            ///< until the finger stops it
    Seconds fade{0.01};               ///< how long the finger takes
    std::uint64_t seed = 1;           ///< draws phases and noise
};

/// Settled frequency of partial k, which may be a half: k f_0 sqrt(1 + B k^2).
[[nodiscard]] Hertz partial_frequency(const PluckedString& string, double k);

/// Frequency of partial 1 at `after` the pluck, on its way down to `fundamental`.
[[nodiscard]] Hertz gliding_frequency(const PluckedString& string, Seconds after);

/// Amplitude with which partial k of the first plane starts.
[[nodiscard]] double partial_amplitude(const PluckedString& string, int k, Hertz sample_rate);

/// Plucks the string into what `sound` already holds, `start` after its first sample; what would fall
/// outside is cut. Phase is the exact integral of the glide at every 128th sample and, for a decay of at
/// least 0.1 s at 20 kHz or more, within 1e-4 rad of it in between. A partial 140 dB below `amplitude`
/// counts as silent.
void add_pluck(std::span<double> sound, Hertz sample_rate, Seconds start, const PluckedString& string);

/// The pluck alone, from its attack to the end of its fade.
[[nodiscard]] std::vector<double> pluck(const PluckedString& string, Hertz sample_rate);

/// The same string with a choked note: it dies with a time constant of 10 ms (60 dB in 69 ms; the tone
/// is below a tenth after 23 ms).
[[nodiscard]] PluckedString choked(PluckedString string);

/// The same string, plucked by nobody: it rings along with another whose amplitude is `string`'s, so far
/// below it, swells within a quarter of a second, and has neither scratch nor glide.
[[nodiscard]] PluckedString ringing_along(PluckedString string, Decibels below);

/// Samples as the library takes them.
[[nodiscard]] std::vector<float> floats(std::span<const double> sound);

}  // namespace midspan::test
