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
constexpr double usual_scatter = 0.3;    // cents: of a good hand, so that no note is the only one that counts
constexpr double most_trust_in_others = 4.0;
constexpr double surely_scattered = 1.5;  // cents, whatever the other strings did
constexpr double never_scattered = 0.5;   // cents: below, nobody's fretting can be blamed
constexpr double three_sigma = 3.0;

/// A variance and from how much evidence it is known.
struct Variance {
    double value;
    double degrees_of_freedom;
};

/// What one of several repeats counts for; all of them together are one.
using Shares = std::vector<double>;

/// By how sure the fits are, beside what plucks scatter anyhow.
Shares shares_of(std::span<const double> fits) {
    Shares shares;
    double sum = 0.0;
    for (const double fit : fits) {
        shares.push_back(1.0 / (square(usual_scatter) + fit));
        sum += shares.back();
    }
    for (double& share : shares)
        share /= sum;
    return shares;
}

struct Repeats {
    double mean = 0.0;           // of the cents above 1 Hz
    double worth = 0.0;          // as many equally sure ones
    Variance scatter{0.0, 0.0};  // of one note, as observed
    double fit = 0.0;            // of one note, as its fit says, on the average
    double fit_of_mean = 0.0;
};

std::vector<double> fits_of(std::span<const PitchReading> readings) {
    std::vector<double> fits;
    for (const PitchReading& reading : readings)
        fits.push_back(square(reading.uncertainty.value()));
    return fits;
}

std::vector<double> cents_of(std::span<const PitchReading> readings) {
    std::vector<double> cents;
    for (const PitchReading& reading : readings)
        cents.push_back(interval(Hertz{1.0}, reading.frequency).value());
    return cents;
}

Repeats repeats_of(std::span<const double> values, std::span<const double> fits, const Shares& shares) {
    Repeats repeats;
    double squares = 0.0;  // of the shares
    for (std::size_t i = 0; i < shares.size(); ++i) {
        repeats.mean += shares[i] * values[i];
        repeats.fit += shares[i] * fits[i];
        repeats.fit_of_mean += square(shares[i]) * fits[i];
        squares += square(shares[i]);
    }
    repeats.worth = 1.0 / squares;
    if (shares.size() < 2) return repeats;
    double sum = 0.0;
    for (std::size_t i = 0; i < shares.size(); ++i)
        sum += shares[i] * square(values[i] - repeats.mean);
    repeats.scatter = {sum / (1.0 - squares), static_cast<double>(shares.size()) - 1.0};
    return repeats;
}

Repeats repeats_of(std::span<const PitchReading> readings) {
    const std::vector<double> fits = fits_of(readings);
    return repeats_of(cents_of(readings), fits, shares_of(fits));
}

/// The variance of a sum of two, with the degrees of freedom of Welch and Satterthwaite (GUM G.4.1).
Variance sum_of(Variance a, Variance b) {
    const double sum = a.value + b.value;
    if (sum == 0.0) return {0.0, a.degrees_of_freedom + b.degrees_of_freedom};
    return {sum,
            square(sum) / (square(a.value) / a.degrees_of_freedom + square(b.value) / b.degrees_of_freedom)};
}

/// Everything about one string's notes and their errors that does not depend on what other strings did.
struct Errors {
    Repeats harmonics;
    Repeats fretted;
    double mean;
    Variance of_one;    // observed, of the error of one pair
    Variance of_mean;   // observed, of the mean error
    double fit_of_one;  // the share of the fits in them
    double fit_of_mean;
    double pairs;  // how many pairs the mean is worth
};

Errors alternate_errors(std::span<const PitchReading> harmonics, std::span<const PitchReading> fretted) {
    assert(harmonics.size() == fretted.size());
    const std::vector<double> h_fits = fits_of(harmonics);
    const std::vector<double> f_fits = fits_of(fretted);
    const std::vector<double> h_cents = cents_of(harmonics);
    const std::vector<double> f_cents = cents_of(fretted);
    std::vector<double> errors;
    std::vector<double> fits;
    for (std::size_t i = 0; i < harmonics.size(); ++i) {
        errors.push_back(f_cents[i] - h_cents[i]);
        fits.push_back(h_fits[i] + f_fits[i]);
    }
    // A pair counts as one: else drift would not cancel.
    const Shares shares = shares_of(fits);
    const Repeats pairs = repeats_of(errors, fits, shares);
    return {repeats_of(h_cents, h_fits, shares),
            repeats_of(f_cents, f_fits, shares),
            pairs.mean,
            pairs.scatter,
            {pairs.scatter.value / pairs.worth, pairs.scatter.degrees_of_freedom},
            pairs.fit,
            pairs.fit_of_mean,
            pairs.worth};
}

Errors grouped_errors(std::span<const PitchReading> harmonics, std::span<const PitchReading> fretted) {
    const Repeats h = repeats_of(harmonics);
    const Repeats f = repeats_of(fretted);
    Errors errors{h,
                  f,
                  f.mean - h.mean,
                  {0.0, 0.0},
                  {0.0, 0.0},
                  h.fit + f.fit,
                  h.fit_of_mean + f.fit_of_mean,
                  2.0 / (1.0 / h.worth + 1.0 / f.worth)};
    if (harmonics.size() >= 2 && fretted.size() >= 2) {
        errors.of_one = sum_of(h.scatter, f.scatter);
        errors.of_mean = sum_of({h.scatter.value / h.worth, h.scatter.degrees_of_freedom},
                                {f.scatter.value / f.worth, f.scatter.degrees_of_freedom});
    } else if (harmonics.size() >= 2 || fretted.size() >= 2) {
        // The kind that was plucked once is taken to scatter as the other does.
        errors.of_one = harmonics.size() >= 2 ? h.scatter : f.scatter;
        errors.of_mean = {errors.of_one.value * (1.0 / h.worth + 1.0 / f.worth),
                          errors.of_one.degrees_of_freedom};
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
    const double from_others = square(others.standard_deviation.value()) / errors.pairs + errors.fit_of_mean;
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

Cents uncertainty_of_mean(const Repeats& repeats) {
    return Cents{std::sqrt(std::max(repeats.fit_of_mean, repeats.scatter.value / repeats.worth))};
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
    const Errors errors = errors_of(harmonics, fretted, order);
    const Cents h_uncertainty = uncertainty_of_mean(errors.harmonics);
    const Cents f_uncertainty = uncertainty_of_mean(errors.fretted);
    return {frequency_of(errors.harmonics, h_uncertainty),
            frequency_of(errors.fretted, f_uncertainty),
            h_uncertainty,
            f_uncertainty,
            static_cast<int>(harmonics.size()),
            static_cast<int>(fretted.size()),
            {Cents{errors.mean}, Cents{uncertainty_of(errors, others)}},
            Cents{std::sqrt(errors.of_one.value)},
            is_scattered(errors, others)};
}

}  // namespace midspan
