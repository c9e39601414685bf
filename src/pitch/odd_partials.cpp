// odd_partials.cpp: what a touched harmonic leaves of the open string's odd modes.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/odd_partials.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace midspan {
namespace {

constexpr double octaves_searched = 5.0;  // half places 1/2 to 9/2: higher ones are weak and crowded

Decibels level(double power, double reference) {
    return Decibels{10.0 * std::log10(std::max(power, 1e-30) / std::max(reference, 1e-30))};
}

}  // namespace

OddPartialFinder::OddPartialFinder()
    : transform_{2 * size}, window_(size), samples_(2 * size), bins_(transform_.bins()) {
    for (std::size_t i = 0; i < size; ++i) {
        window_[i] =
            static_cast<float>(0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * (static_cast<double>(i) + 0.5) /
                                                    static_cast<double>(size)));
    }
}

OddPartialLevels OddPartialFinder::find(std::span<const float> samples, Hertz sample_rate,
                                        const StringLaw& law) {
    // A shorter note takes every n-th weight, so that the window still fades at both ends.
    const std::size_t n = std::min(samples.size(), size);
    std::fill(samples_.begin(), samples_.end(), 0.0F);
    for (std::size_t i = 0; i < n; ++i) {
        samples_[i] = samples[i] * window_[i * size / n];
    }
    transform_.transform(samples_, bins_);

    const double bin_width = sample_rate.value() / static_cast<double>(2 * size);
    const double glide = std::max(law.glide, 0.0);
    const double lowest = std::exp(law.log_lowest);
    const auto strongest_near = [&](double place) {
        const double f =
            lowest * place * std::sqrt((1.0 + law.inharmonicity * place * place) / (1.0 + law.inharmonicity));
        const double reach = std::min(3.0 * bin_width, 0.1 * lowest);
        const auto from = static_cast<std::size_t>(std::max(1.0, (f - reach) / bin_width));
        const auto to = static_cast<std::size_t>((f * (1.0 + glide) + reach) / bin_width) + 1;
        double strongest = 0.0;
        for (std::size_t i = from; i <= to && i < bins_.size(); ++i) {
            strongest = std::max(strongest, static_cast<double>(std::norm(bins_[i])));
        }
        return strongest;
    };
    // The strongest line of either kind is left out: one alone may be hum or another string.
    double whole = 0.0, odd = 0.0, between = 0.0, strongest_odd = 0.0, strongest_between = 0.0;
    for (double place = 0.5; place < octaves_searched; place += 1.0) {
        const double here = strongest_near(place);
        const double beside = 0.5 * (strongest_near(place - 0.25) + strongest_near(place + 0.25));
        whole += strongest_near(place + 0.5);
        odd += here;
        between += beside;
        strongest_odd = std::max(strongest_odd, here);
        strongest_between = std::max(strongest_between, beside);
    }
    return {level(odd - strongest_odd, whole), level(between - strongest_between, whole)};
}

}  // namespace midspan
