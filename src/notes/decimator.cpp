// decimator.cpp: a windowed sinc, evaluated only where a sample is kept.
//
// Room: notes. Pure. May include: ground.
#include "notes/decimator.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "ground/sum_of_products.hpp"

namespace midspan {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double highest_rate = 16500.0;
constexpr double lowest_rate = 11000.0;
constexpr double mean_corner = 1.0;  // Hz

// Half the length of the filter in outputs. With the Kaiser estimate N = (A - 7.95) / (14.36 df) (Kaiser
// 1974, from memory), A = 88 dB and df = 0.3 of the new rate, half the length is 9.3 outputs.
constexpr std::size_t half_length = 10;
constexpr double kaiser_beta = 8.7;  // 0.1102 (A - 8.7), A = 88 dB

// The modified Bessel function of order 0, by its power series.
double bessel_i0(double x) {
    double sum = 1.0;
    double term = 1.0;
    for (int k = 1; term > 1e-17 * sum; ++k) {
        term *= (0.5 * x / k) * (0.5 * x / k);
        sum += term;
    }
    return sum;
}

// h(n) = sinc(n / factor) I0(beta sqrt(1 - (n / half)^2)), scaled to a gain of 1 at DC. The sinc is zero
// where the window ends, so 2 half taps (the first of them zero) hold all of it.
std::vector<float> sinc_under_kaiser(std::size_t factor) {
    const auto half = static_cast<double>(half_length * factor);
    std::vector<double> h(2 * half_length * factor);
    double sum = 0.0;
    for (std::size_t i = 0; i < h.size(); ++i) {
        const double n = static_cast<double>(i) - half;
        const double x = pi * n / static_cast<double>(factor);
        const double window = bessel_i0(kaiser_beta * std::sqrt(1.0 - (n / half) * (n / half)));
        h[i] = (x == 0.0 ? 1.0 : std::sin(x) / x) * window;
        sum += h[i];
    }
    std::vector<float> taps((h.size() + sums_side_by_side - 1) / sums_side_by_side * sums_side_by_side, 0.0F);
    // Zeros, if any, go in front: the newest sample stays under the last tap.
    std::transform(h.begin(), h.end(), taps.end() - static_cast<std::ptrdiff_t>(h.size()),
                   [&](double tap) { return static_cast<float>(tap / sum); });
    return taps;
}

}  // namespace

std::size_t decimation(Hertz sample_rate) {
    const double rate = sample_rate.value();
    const double factor = std::min(std::ceil(rate / highest_rate), std::floor(rate / lowest_rate));
    return static_cast<std::size_t>(std::max(1.0, factor));
}

Decimator::Decimator(Hertz sample_rate, std::size_t at_once)
    : factor_{decimation(sample_rate)},
      output_rate_{sample_rate.value() / static_cast<double>(factor_)},
      delay_{factor_ > 1 ? half_length : 0},
      mean_step_{-std::expm1(-2.0 * pi * mean_corner / output_rate_.value())} {
    assert(sample_rate.value() >= 8000.0 && sample_rate.value() <= 192000.0);
    if (factor_ > 1) {
        taps_ = sinc_under_kaiser(factor_);
        window_.resize(taps_.size() + at_once * factor_);
    }
}

void Decimator::feed(std::span<const float> input, std::span<float> output) {
    assert(input.size() == output.size() * factor_);
    if (input.empty()) return;
    if (!begun_) {
        // As if the first sample had always been there: a constant offset makes no step.
        mean_ = static_cast<double>(input.front());
        std::fill(window_.begin(), window_.end(), input.front());
        begun_ = true;
    }
    if (factor_ > 1) {
        low_pass(input, output);
    } else {
        std::copy(input.begin(), input.end(), output.begin());
    }
    for (float& sample : output) {
        const auto x = static_cast<double>(sample);
        sample = static_cast<float>(x - mean_);
        mean_ = (1.0 - mean_step_) * mean_ + mean_step_ * x;
    }
}

void Decimator::low_pass(std::span<const float> input, std::span<float> output) {
    const std::size_t past = taps_.size();
    assert(past + input.size() <= window_.size());
    std::copy(input.begin(), input.end(), window_.begin() + static_cast<std::ptrdiff_t>(past));
    // The last tap stands on input m * factor - 1; the one for m * factor would be zero.
    for (std::size_t m = 0; m < output.size(); ++m)
        output[m] = sum_of_products(taps_, std::span{window_}.subspan(m * factor_, past));
    std::copy_n(window_.begin() + static_cast<std::ptrdiff_t>(input.size()), past, window_.begin());
}

}  // namespace midspan
