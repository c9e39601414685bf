// string_law.hpp: what all partials of one plucked string share.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <cmath>

namespace midspan {

/// The frequencies of a stiff string that glides down to its settled pitch:
///
///     f_k(t) = k f_0 sqrt(1 + B k^2) (1 + glide_k exp(-2 t / glide_time)),   f_1 = f_0 sqrt(1 + B)
///
/// and, where two planes of vibration are told apart, the second one's f_k (1 + split).
/// t counts in seconds from the middle of the first window.
struct StringLaw {
    double log_lowest = 0.0;      ///< ln f_1, settled
    double inharmonicity = 0.0;   ///< B
    double glide = 0.0;           ///< relative, at t = 0
    double log_glide_time = 0.0;  ///< ln s
    double split = 0.0;           ///< relative
    double fast_glide = 0.0;      ///< relative, at t = 0: the part that the higher partials' energy drives
    double self_stretch = 0.0;    ///< share of the glide that partial 1 has for itself

    /// A mode stretches the string most when its own slope is greatest, so that its own swing raises it half
    /// as much again as it raises the others. A third of partial 1's glide is its own where nothing else
    /// swings, less where more does, none where others move the string (from the equation of Kirchhoff and
    /// Carrier, averaged over a period; own derivation).
    [[nodiscard]] double share_of_glide(int number) const { return number > 1 ? 1.0 - self_stretch : 1.0; }
    /// The glide of partial `number`, relative, at t = 0.
    [[nodiscard]] double glide_of(int number) const { return glide * share_of_glide(number); }

    /// All that the string glides by, relative, at t = 0.
    [[nodiscard]] double whole_glide() const { return glide + fast_glide; }

    /// f_k, settled, Hz.
    [[nodiscard]] double frequency(int number) const {
        const double k2 = static_cast<double>(number) * number;
        return std::exp(log_lowest) * number * std::sqrt((1.0 + inharmonicity * k2) / (1.0 + inharmonicity));
    }

    /// d ln f_k / dB at fixed f_1.
    [[nodiscard]] double by_inharmonicity(int number) const {
        const double k2 = static_cast<double>(number) * number;
        return 0.5 * (k2 / (1.0 + inharmonicity * k2) - 1.0 / (1.0 + inharmonicity));
    }

    /// How fast the glide dies: 2 / T, 1/s.
    [[nodiscard]] double fading() const { return 2.0 * std::exp(-log_glide_time); }
    /// What is left of it at t.
    [[nodiscard]] double faded(double t) const { return std::exp(-t * fading()); }

    /// The time in which the settled string would turn as far as the gliding one does in t:
    /// t + glide (T / 2) (1 - exp(-2 t / T)).
    [[nodiscard]] double elapsed(double t) const { return t + glide * (1.0 - faded(t)) / fading(); }

    /// f_k(t) / f_k, where `faded` is left of the glide.
    [[nodiscard]] double rate(int number, double faded) const { return 1.0 + glide_of(number) * faded; }
};

}  // namespace midspan
