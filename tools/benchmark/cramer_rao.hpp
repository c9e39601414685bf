// cramer_rao.hpp: how well a pitch can be known at all, whatever the estimator.
//
// Room: tools/benchmark. Pure. May include: ground.
#pragma once

#include <vector>

#include "midspan/units.hpp"

namespace midspan::benchmark {

/// A sum of decaying partials in white noise, as far as its samples carry the pitch:
///
///     x(t) = sum A_k e^(-alpha_k t) cos(2 pi k f_0 sqrt(1 + B k^2) (t + epsilon T/2 (1 - e^(-2t/T))) +
///     phi_k)
///
/// with f_1 = f_0 sqrt(1 + B), the pitch.
struct ModelPartial {
    int number;         ///< k
    double amplitude;   ///< A_k at t = 0, not 0
    double phase;       ///< phi_k, rad
    double decay_rate;  ///< alpha_k, 1/s
};

struct PartialModel {
    Hertz pitch;                 ///< f_1, settled
    double inharmonicity = 0.0;  ///< B
    double glide = 0.0;          ///< epsilon, the relative rise at t = 0
    Seconds glide_time{1.0};     ///< T
    std::vector<ModelPartial> partials;
};

/// What an estimator has to find besides the pitch and every partial's amplitude and phase, which nobody
/// ever knows.
struct Unknowns {
    bool decay_rates = true;
    bool inharmonicity = true;
    bool glide = false;
    bool glide_time = false;
};

/// The span of the note that is looked at, and the noise on each of its samples.
struct ObservedSpan {
    Seconds begin;  ///< since t = 0
    Seconds end;
    Hertz sample_rate;
    double noise;  ///< standard deviation, > 0
};

/// The covariance no unbiased estimator can be below.
struct PitchBound {
    double log_pitch_variance;      ///< of ln f_1
    double inharmonicity_variance;  ///< of B; 0 when it is known
    double covariance;              ///< of the two

    /// The standard deviation of the pitch.
    [[nodiscard]] Cents pitch() const;
};

/// The Cramer-Rao bound, by inverting the Fisher matrix J^T J / noise^2 of the samples, J the derivatives of
/// x by all unknowns. Takes time in proportion to the samples and to the square of the unknowns.
///
/// Source: H. Cramer 1946 and C. R. Rao 1945, from memory; the derivatives are our own.
[[nodiscard]] PitchBound cramer_rao_bound(const PartialModel& model, const Unknowns& unknowns,
                                          const ObservedSpan& span);

}  // namespace midspan::benchmark
