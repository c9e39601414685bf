// power_curve.cpp: Fisher's scoring with two unknowns.
//
// Room: tools/benchmark. Pure.
#include "benchmark/power_curve.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace midspan::benchmark {
namespace {

constexpr double known_at_nothing = 20.0;  // surveys
constexpr double noticed_at_nothing = 0.001;

double normal_share(double z) { return 0.5 * std::erfc(-z / std::numbers::sqrt2); }
double normal_density(double z) { return std::exp(-0.5 * z * z) / std::sqrt(2.0 * std::numbers::pi); }

double normal_quantile(double share) {
    double low = -8.0;
    double high = 8.0;
    for (int i = 0; i < 60; ++i) {
        const double middle = 0.5 * (low + high);
        (normal_share(middle) < share ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

/// What the points say of a curve: their pull on slope and threshold, and how firmly.
struct Scores {
    double slope = 0.0, threshold = 0.0;                // first derivatives of the likelihood's logarithm
    double slopes = 0.0, both = 0.0, thresholds = 0.0;  // Fisher's information

    void add(double size, double surveys, double noticed, double of_slope, double of_threshold) {
        const double z = std::clamp(of_slope * size - of_threshold, -6.0, 6.0);
        const double p = normal_share(z);
        const double density = normal_density(z);
        const double pull = (noticed - surveys * p) * density / (p * (1.0 - p));
        const double weight = surveys * density * density / (p * (1.0 - p));
        slope += pull * size;
        threshold -= pull;
        slopes += weight * size * size;
        both -= weight * size;
        thresholds += weight;
    }
    [[nodiscard]] double determinant() const { return slopes * thresholds - both * both; }
};

}  // namespace

double PowerCurve::size_noticed_in(double share) const {
    return (threshold + normal_quantile(share)) / slope;
}

double PowerCurve::uncertainty_of_size(double share) const {
    const double size = size_noticed_in(share);
    return std::sqrt(threshold_variance - 2.0 * size * covariance + size * size * slope_variance) / slope;
}

std::optional<PowerCurve> power_curve(std::span<const PowerPoint> points) {
    double surveys = 0.0;
    double sizes = 0.0;
    for (const PowerPoint& point : points) {
        surveys += point.surveys;
        sizes += point.surveys * point.size;
    }
    if (surveys <= 0.0 || sizes <= 0.0) return std::nullopt;
    // Half of them, to begin with, at the mean size.
    double threshold = 3.0;
    double slope = threshold * surveys / sizes;
    Scores scores;
    for (int step = 0; step < 50; ++step) {
        scores = {};
        scores.add(0.0, known_at_nothing, known_at_nothing * noticed_at_nothing, slope, threshold);
        for (const PowerPoint& point : points)
            scores.add(point.size, point.surveys, point.noticed, slope, threshold);
        const double determinant = scores.determinant();
        if (!(determinant > 0.0)) return std::nullopt;
        const double change_of_slope =
            (scores.thresholds * scores.slope - scores.both * scores.threshold) / determinant;
        const double change_of_threshold =
            (scores.slopes * scores.threshold - scores.both * scores.slope) / determinant;
        // Never more than a third at once, so that it stays a rising curve.
        slope += std::clamp(change_of_slope, -slope / 3.0, slope / 3.0);
        threshold += std::clamp(change_of_threshold, -1.0, 1.0);
    }
    const double determinant = scores.determinant();
    return PowerCurve{slope, threshold, scores.thresholds / determinant, -scores.both / determinant,
                      scores.slopes / determinant};
}

}  // namespace midspan::benchmark
