// periodicity.cpp: the coarse period of a tone, by autocorrelation.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/periodicity.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace midspan {
namespace {

constexpr std::size_t transform_size = 2 * PeriodFinder::longest;
// What is left of a sound at its end against its beginning, in power: steady sounds that are no more than
// that do not hide a string's period.
constexpr double hardly_left = 0.04;

struct Peak {
    double lag;
    double height;
};

// The even part of the circular autocorrelation of what was transformed: the transform of a real, even
// power spectrum, done with the same real transform.
void to_autocorrelation(const RealTransform& transform, std::span<const double> power,
                        std::span<float> mirrored, std::span<std::complex<float>> bins,
                        std::span<double> result) {
    const std::size_t n = transform.size();
    for (std::size_t i = 0; i <= n / 2; ++i) {
        mirrored[i] = static_cast<float>(power[i]);
        if (i > 0 && i < n / 2) mirrored[n - i] = mirrored[i];
    }
    transform.transform(mirrored, bins);
    for (std::size_t lag = 0; lag < n / 2; ++lag) {
        result[lag] = static_cast<double>(bins[lag].real()) / static_cast<double>(n);
    }
}

double power_of(std::span<const float> samples) {
    double sum = 0.0;
    for (const float sample : samples)
        sum += static_cast<double>(sample) * sample;
    return sum;
}

}  // namespace

PeriodFinder::PeriodFinder()
    : transform_{transform_size},
      samples_(transform_size),
      bins_(transform_.bins()),
      autocorrelation_(transform_size / 2),
      power_(transform_size / 2 + 1),
      power_at_end_(transform_size / 2 + 1) {}

Periodicity PeriodFinder::find(std::span<const float> samples, Hertz sample_rate, Hertz lowest,
                               Hertz highest) {
    const std::size_t n = std::min(samples.size(), longest);
    const std::size_t dying = std::min(samples.size() / 2, longest);
    take_power(samples.first(n), sample_rate, lowest, highest, power_);
    const Periodicity found = shortest_of_power(n, sample_rate, lowest, highest);
    if (power_of(samples.last(dying)) < hardly_left * power_of(samples.first(dying))) return found;
    const Periodicity in_what_dies = find_dying(samples, sample_rate, lowest, highest);
    return in_what_dies.clarity > found.clarity ? in_what_dies : found;
}

// Of hum and of other steady sounds as little is left as each keeps to its loudness.
Periodicity PeriodFinder::find_dying(std::span<const float> samples, Hertz sample_rate, Hertz lowest,
                                     Hertz highest) {
    const std::size_t n = std::min(samples.size() / 2, longest);
    if (static_cast<double>(n) < 2.0 * sample_rate.value() / lowest.value()) return {lowest, 0.0};
    take_power(samples.first(n), sample_rate, lowest, highest, power_);
    take_power(samples.last(n), sample_rate, lowest, highest, power_at_end_);
    for (std::size_t i = 0; i < power_.size(); ++i)
        power_[i] = std::max(0.0, power_[i] - power_at_end_[i]);
    return shortest_of_power(n, sample_rate, lowest, highest);
}

// The power spectrum, of what may be a string.
void PeriodFinder::take_power(std::span<const float> samples, Hertz sample_rate, Hertz lowest, Hertz highest,
                              std::span<double> power) {
    assert(static_cast<double>(samples.size()) >= 2.0 * sample_rate.value() / lowest.value());
    double mean = 0.0;
    for (const float sample : samples)
        mean += sample;
    mean /= static_cast<double>(samples.size());
    std::fill(samples_.begin(), samples_.end(), 0.0F);
    for (std::size_t i = 0; i < samples.size(); ++i) {
        samples_[i] = samples[i] - static_cast<float>(mean);
    }
    transform_.transform(samples_, bins_);

    const double bin_width = sample_rate.value() / transform_size;
    const double fade_above = std::max(1.5 * highest.value(), 800.0);
    for (std::size_t i = 0; i <= transform_size / 2; ++i) {
        const double f = static_cast<double>(i) * bin_width;
        const double x = f / fade_above;
        // Hum and rumble lie below the range; what lies there is no string.
        const double keep = f < 0.7 * lowest.value() ? 0.0 : 1.0 / (1.0 + x * x * x * x);
        const bool inside = i > 0 && i < transform_size / 2;
        power[i] = inside ? keep * static_cast<double>(std::norm(bins_[i])) : 0.0;
    }
}

// The shortest period that explains `n` samples of such a power about as well as the best one does.
Periodicity PeriodFinder::shortest_of_power(std::size_t n, Hertz sample_rate, Hertz lowest, Hertz highest) {
    const double rate = sample_rate.value();
    to_autocorrelation(transform_, power_, samples_, bins_, autocorrelation_);

    // The sum at a lag has fewer terms the longer the lag; dividing by their number makes lags comparable.
    const auto at = [&](std::size_t lag) {
        return autocorrelation_[lag] * static_cast<double>(n) / static_cast<double>(n - lag);
    };
    const double energy = at(0);
    if (!(energy > 0.0)) return {lowest, 0.0};

    const auto shortest = static_cast<std::size_t>(std::max(2.0, std::floor(rate / highest.value())));
    const auto longest_lag =
        std::min(static_cast<std::size_t>(std::ceil(rate / lowest.value())), n * 3 / 4 - 1);
    const auto is_peak = [&](std::size_t lag) { return at(lag) >= at(lag - 1) && at(lag) > at(lag + 1); };
    // A parabola through a peak and its neighbours: of high notes the samples miss the top by a lot.
    const auto top_of = [&](std::size_t lag) {
        const double before = at(lag - 1);
        const double here = at(lag);
        const double after = at(lag + 1);
        const double curvature = before - 2.0 * here + after;
        const double shift = curvature < 0.0 ? 0.5 * (before - after) / curvature : 0.0;
        return Peak{static_cast<double>(lag) + shift, here - 0.25 * (before - after) * shift};
    };

    double best = 0.0;
    for (std::size_t lag = shortest; lag <= longest_lag; ++lag) {
        if (is_peak(lag)) best = std::max(best, top_of(lag).height);
    }
    for (std::size_t lag = shortest; lag <= longest_lag; ++lag) {
        if (!is_peak(lag)) continue;
        const Peak top = top_of(lag);
        if (top.height < 0.85 * best) continue;
        return {Hertz{rate / top.lag}, std::clamp(top.height / energy, 0.0, 1.0)};
    }
    return {lowest, 0.0};
}

}  // namespace midspan
