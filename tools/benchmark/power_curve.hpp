// power_curve.hpp: from how often faults of some sizes were noticed to the size that nearly always is.
//
// Room: tools/benchmark. Pure.
#pragma once

#include <optional>
#include <span>

namespace midspan::benchmark {

struct PowerPoint {
    double size;  ///< >= 0
    int surveys;
    int noticed;
};

/// A probit curve: noticed in Phi(slope size - threshold) of all surveys, as anything is that has to stand so
/// many standard deviations out of a normal scatter.
struct PowerCurve {
    double slope;
    double threshold;
    double slope_variance, covariance, threshold_variance;

    /// The size noticed in that share of surveys, 0 < share < 1, and its standard uncertainty by the
    /// curvature of the likelihood.
    [[nodiscard]] double size_noticed_in(double share) const;
    [[nodiscard]] double uncertainty_of_size(double share) const;
};

/// Fits the likeliest curve, found by Fisher's scoring. That a fault of no size is noticed once in a thousand
/// surveys is worth 20 of them. Nothing when no point has a size or a survey.
///
/// Source: probit analysis, Finney (1947), from memory.
[[nodiscard]] std::optional<PowerCurve> power_curve(std::span<const PowerPoint> points);

}  // namespace midspan::benchmark
