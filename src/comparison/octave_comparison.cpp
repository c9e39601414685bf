// octave_comparison.cpp: means, scatter, and what is honest to say of few repeats.
//
// Room: comparison. Pure.
#include "midspan/comparison/octave_comparison.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

#include "comparison/square.hpp"
#include "comparison/student_t.hpp"

namespace midspan {
namespace {

// Variances are in squared cents.

constexpr double assumed_scatter = 1.0;  // cents of one pair, where nothing at all is known
constexpr double most_trust_in_others = 4.0;
constexpr double surely_scattered = 1.5;  // cents, whatever the other strings did
constexpr double never_scattered = 0.5;   // cents: below, nobody's fretting can be blamed
constexpr double three_sigma = 3.0;

/// A variance and from how much evidence it is known.
struct Variance {
    double value;
    double degrees_of_freedom;
};

struct Repeats {
    double mean = 0.0;           // of the cents above 1 Hz
    Variance scatter{0.0, 0.0};  // of one note, as observed
    double fit = 0.0;            // of one note, as its fit says, on the average
};

Variance sample_variance(std::span<const double> values, double mean) {
    const double freedom = static_cast<double>(values.size()) - 1.0;
    if (freedom < 1.0) return {0.0, 0.0};
    double sum = 0.0;
    for (const double value : values) {
        sum += square(value - mean);
    }
    return {sum / freedom, freedom};
}

double mean_of(std::span<const double> values) {
    double sum = 0.0;
    for (const double value : values) {
        sum += value;
    }
    return sum / static_cast<double>(values.size());
}

Repeats repeats_of(std::span<const PitchReading> readings) {
    std::vector<double> cents;
    std::vector<double> fits;
    for (const PitchReading& reading : readings) {
        cents.push_back(interval(Hertz{1.0}, reading.frequency).value());
        fits.push_back(square(reading.uncertainty.value()));
    }
    const double mean = mean_of(cents);
    return {mean, sample_variance(cents, mean), mean_of(fits)};
}

/// The variance of a sum of two, with the degrees of freedom of Welch and Satterthwaite (GUM G.4.1).
Variance sum_of(Variance a, Variance b) {
    const double sum = a.value + b.value;
    if (sum == 0.0) return {0.0, a.degrees_of_freedom + b.degrees_of_freedom};
    return {sum,
            square(sum) / (square(a.value) / a.degrees_of_freedom + square(b.value) / b.degrees_of_freedom)};
}

/// Everything about the errors of one string that does not depend on what other strings did.
struct Errors {
    double mean;
    Variance of_one;    // observed, of the error of one pair
    Variance of_mean;   // observed, of the mean error
    double fit_of_one;  // the share of the fits in them
    double fit_of_mean;
    double pairs;  // how many pairs the mean is worth
};

Errors alternate_errors(std::span<const PitchReading> harmonics, std::span<const PitchReading> fretted) {
    assert(harmonics.size() == fretted.size());
    std::vector<double> errors;
    for (std::size_t i = 0; i < harmonics.size(); ++i) {
        errors.push_back(interval(harmonics[i].frequency, fretted[i].frequency).value());
    }
    const double n = static_cast<double>(errors.size());
    const double mean = mean_of(errors);
    const Variance of_one = sample_variance(errors, mean);
    const double fit = repeats_of(harmonics).fit + repeats_of(fretted).fit;
    return {mean, of_one, {of_one.value / n, of_one.degrees_of_freedom}, fit, fit / n, n};
}

Errors grouped_errors(std::span<const PitchReading> harmonics, std::span<const PitchReading> fretted) {
    const Repeats h = repeats_of(harmonics);
    const Repeats f = repeats_of(fretted);
    const double nh = static_cast<double>(harmonics.size());
    const double nf = static_cast<double>(fretted.size());
    Errors errors{f.mean - h.mean,
                  {0.0, 0.0},
                  {0.0, 0.0},
                  h.fit + f.fit,
                  h.fit / nh + f.fit / nf,
                  2.0 / (1.0 / nh + 1.0 / nf)};
    if (nh >= 2.0 && nf >= 2.0) {
        errors.of_one = sum_of(h.scatter, f.scatter);
        errors.of_mean = sum_of({h.scatter.value / nh, h.scatter.degrees_of_freedom},
                                {f.scatter.value / nf, f.scatter.degrees_of_freedom});
    } else if (nh >= 2.0 || nf >= 2.0) {
        // The kind that was plucked once is taken to scatter as the other does.
        errors.of_one = nh >= 2.0 ? h.scatter : f.scatter;
        errors.of_mean = {errors.of_one.value * (1.0 / nh + 1.0 / nf), errors.of_one.degrees_of_freedom};
    }
    return errors;
}

Errors errors_of(std::span<const PitchReading> harmonics, std::span<const PitchReading> fretted,
                 PluckOrder order) {
    return order == PluckOrder::alternate ? alternate_errors(harmonics, fretted)
                                          : grouped_errors(harmonics, fretted);
}

/// The standard uncertainty of the mean error, in cents.
///
/// Own scatter and that of the other strings are pooled by their degrees of freedom; the fits are in both, so
/// that Student's t speaks of the whole. Below what the fits say of themselves it never falls.
double uncertainty_of(const Errors& errors, FrettingScatter others) {
    const double from_others = (square(others.standard_deviation.value()) + errors.fit_of_one) / errors.pairs;
    const double trust = std::min(others.degrees_of_freedom, most_trust_in_others);
    const double freedom = trust + errors.of_mean.degrees_of_freedom;
    if (freedom < 1.0) return std::sqrt(square(assumed_scatter) / errors.pairs + errors.fit_of_mean);
    const double pooled =
        (trust * from_others + errors.of_mean.degrees_of_freedom * errors.of_mean.value) / freedom;
    const double widened = square(0.5 * t_for_two_sigma(freedom)) * pooled;
    return std::sqrt(std::max(widened, errors.fit_of_mean));
}

/// Above this many times its expectation a variance of so many degrees of freedom lies beyond three sigma
/// (Wilson and Hilferty's cube for chi-square, from memory).
double clear_excess(double degrees_of_freedom) {
    const double share = 2.0 / (9.0 * degrees_of_freedom);
    return std::pow(1.0 - share + three_sigma * std::sqrt(share), 3);
}

bool is_scattered(const Errors& errors, FrettingScatter others) {
    const double observed = errors.of_one.value;
    if (observed > square(surely_scattered)) return true;
    if (observed < square(never_scattered) || others.degrees_of_freedom < 1.0) return false;
    const double expected = square(others.standard_deviation.value()) + errors.fit_of_one;
    // The expectation is itself known from few notes only.
    const double slack = 1.0 + 2.0 / others.degrees_of_freedom;
    return observed > expected * slack * clear_excess(errors.of_one.degrees_of_freedom);
}

Cents uncertainty_of_mean(const Repeats& repeats, std::size_t n) {
    return Cents{std::sqrt(std::max(repeats.fit, repeats.scatter.value) / static_cast<double>(n))};
}

Uncertain<Hertz> frequency_of(const Repeats& repeats, Cents uncertainty) {
    const Hertz f = raised(Hertz{1.0}, Cents{repeats.mean});
    return {f, raised(f, uncertainty) - f};
}

}  // namespace

std::optional<FrettingScatter> fretting_scatter(std::span<const PitchReading> harmonics,
                                                std::span<const PitchReading> fretted, PluckOrder order) {
    if (harmonics.empty() || fretted.empty()) return std::nullopt;
    const Errors errors = errors_of(harmonics, fretted, order);
    if (errors.of_one.degrees_of_freedom < 1.0) return std::nullopt;
    const double beyond_fit = std::max(0.0, errors.of_one.value - errors.fit_of_one);
    return FrettingScatter{Cents{std::sqrt(beyond_fit)}, errors.of_one.degrees_of_freedom};
}

OctaveComparison compare_octave(std::span<const PitchReading> harmonics,
                                std::span<const PitchReading> fretted, PluckOrder order,
                                FrettingScatter others) {
    assert(!harmonics.empty() && !fretted.empty());
    const Repeats h = repeats_of(harmonics);
    const Repeats f = repeats_of(fretted);
    const Errors errors = errors_of(harmonics, fretted, order);
    const Cents h_uncertainty = uncertainty_of_mean(h, harmonics.size());
    const Cents f_uncertainty = uncertainty_of_mean(f, fretted.size());
    return {frequency_of(h, h_uncertainty),
            frequency_of(f, f_uncertainty),
            h_uncertainty,
            f_uncertainty,
            static_cast<int>(harmonics.size()),
            static_cast<int>(fretted.size()),
            {Cents{errors.mean}, Cents{uncertainty_of(errors, others)}},
            Cents{std::sqrt(errors.of_one.value)},
            is_scattered(errors, others)};
}

}  // namespace midspan
