// cramer_rao_test.cpp: the bound from the Fisher matrix against closed forms.
#include "benchmark/cramer_rao.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

namespace midspan::benchmark {
namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;

/// A sinusoid of `omega` radians a sample, one sample a second.
PartialModel sinusoid(double omega, double decay_rate) {
    return {.pitch = Hertz{omega / two_pi}, .partials = {{1, 1.0, 0.3, decay_rate}}};
}

ObservedSpan samples(int count, double noise) {
    return {Seconds{0.0}, Seconds{1.0 * count}, Hertz{1.0}, noise};
}

constexpr Unknowns frequency_alone{.decay_rates = false, .inharmonicity = false};

/// Variance of the angular frequency, rad^2 a sample^2.
double omega_variance(const PartialModel& model, const PitchBound& bound) {
    const double omega = two_pi * model.pitch.value();
    return omega * omega * bound.log_pitch_variance;
}

/// Ten equal partials in a second of sound.
PartialModel equal_partials(int count) {
    PartialModel model{.pitch = Hertz{100.0}, .partials = {}};
    for (int k = 1; k <= count; ++k) {
        model.partials.push_back({k, 1.0, 0.7 * k, 0.0});
    }
    return model;
}

constexpr ObservedSpan a_second{Seconds{0.0}, Seconds{1.0}, Hertz{4000.0}, 0.1};

double power_sum(int count, int power) {
    double sum = 0.0;
    for (int k = 1; k <= count; ++k) {
        sum += std::pow(k, power);
    }
    return sum;
}

/// What not knowing B costs the variance of f_0, from the covariance of ln f_1 = ln f_0 + ln(1 + B) / 2 and
/// B.
double inflation_of_f0(int count) {
    const PartialModel model = equal_partials(count);
    const PitchBound known = cramer_rao_bound(model, frequency_alone, a_second);
    const PitchBound unknown =
        cramer_rao_bound(model, {.decay_rates = false, .inharmonicity = true}, a_second);
    const double f0 = unknown.log_pitch_variance - unknown.covariance + 0.25 * unknown.inharmonicity_variance;
    return f0 / known.log_pitch_variance;
}

}  // namespace

TEST_SUITE("published") {
    // D. C. Rife and R. R. Boorstyn, IEEE Trans. Inf. Theory 20, 591 (1974), as a real sinusoid, from memory:
    // var(omega) = 24 noise^2 / (A^2 N (N^2 - 1)). That form leaves out what the sinusoid has in common with
    // its image, 0.23 % here; a 3 x 3 Fisher matrix inverted by other hands gives 2.993353e-8.
    TEST_CASE("Rife and Boorstyn: a sinusoid in 200 samples of noise") {
        const PartialModel model = sinusoid(0.7, 0.0);
        const double variance =
            omega_variance(model, cramer_rao_bound(model, frequency_alone, samples(200, 0.1)));
        CHECK(std::abs(variance - 2.993353e-8) < 1e-14);
        const double closed = 24.0 * 0.1 * 0.1 / (200.0 * (200.0 * 200.0 - 1.0));
        CHECK(std::abs(variance - closed) < 1e-10);
    }

    // From memory, a form in many textbooks: 12 / (eta N (N^2 - 1)), eta = A^2 / 2 noise^2. At 48 kHz, 1 s,
    // 40 dB that is 2.516461e-5 Hz.
    TEST_CASE("textbooks: a second of a sinusoid at 40 dB is known within 0.0252 mHz") {
        const PartialModel model{.pitch = Hertz{82.41}, .partials = {{1, 1.0, 0.3, 0.0}}};
        const double noise = std::sqrt(0.5e-4);
        const PitchBound bound =
            cramer_rao_bound(model, frequency_alone, {Seconds{0.0}, Seconds{1.0}, Hertz{48000.0}, noise});
        const double hertz = 82.41 * std::sqrt(bound.log_pitch_variance);
        CHECK(std::abs(hertz - 2.516461e-5) < 0.01e-5);
    }

    // Own derivation: the whole ring-down, with its decay unknown, 8 alpha^3 / eta rad^2 a sample^2. A 4 x 4
    // Fisher matrix inverted by other hands gives 1.588248e-7; without the image it is 1.584159e-7.
    TEST_CASE("a decaying sinusoid: no more is to be had than its ring-down holds") {
        const PartialModel model = sinusoid(0.7, 0.01);
        const double variance = omega_variance(
            model,
            cramer_rao_bound(model, {.decay_rates = true, .inharmonicity = false}, samples(2000, 0.1)));
        CHECK(std::abs(variance - 1.588248e-7) < 1e-13);
        CHECK(std::abs(variance - 8.0 * 0.01 * 0.01 * 0.01 / 50.0) < 2e-9);
    }

    // M. G. Christensen and A. Jakobsson, Multi-Pitch Estimation (2009), from memory:
    // var(omega_0) = 24 noise^2 / (N (N^2 - 1) sum k^2 A_k^2).
    TEST_CASE("Christensen and Jakobsson: ten equal harmonics are worth 385 times one") {
        const PartialModel model = equal_partials(10);
        const PitchBound bound = cramer_rao_bound(model, frequency_alone, a_second);
        const double omega = two_pi * 100.0 / 4000.0;
        const double variance = omega * omega * bound.log_pitch_variance;
        const double closed = 24.0 * 0.1 * 0.1 / (4000.0 * (4000.0 * 4000.0 - 1.0) * power_sum(10, 2));
        CHECK(std::abs(variance / closed - 1.0) < 0.002);
    }

    // Own derivation: not knowing B multiplies the variance of f_0 by 1 / (1 - s_4^2 / (s_2 s_6)),
    // s_j = sum k^j A_k^2.
    TEST_CASE("not knowing the inharmonicity makes f_0 6.35 times less certain with ten equal partials") {
        CHECK(std::abs(inflation_of_f0(10) - 6.351350) < 0.01);
        CHECK(std::abs(inflation_of_f0(5) - 6.641738) < 0.01);
    }
}

TEST_SUITE("properties") {
    TEST_CASE("the bound follows the noise, and every further unknown raises it") {
        PartialModel model = equal_partials(6);
        model.inharmonicity = 1e-4;
        model.glide = 0.005;
        model.glide_time = Seconds{0.7};
        for (ModelPartial& partial : model.partials) {
            partial.decay_rate = 1.0 + 0.1 * partial.number;
        }
        Unknowns unknowns{.decay_rates = false, .inharmonicity = false};
        const auto pitch = [&] { return cramer_rao_bound(model, unknowns, a_second).pitch().value(); };
        double last = pitch();
        unknowns.inharmonicity = true;
        CHECK(pitch() > last);
        last = pitch();
        unknowns.glide = true;
        CHECK(pitch() > 1.5 * last);
        last = pitch();
        unknowns.glide_time = true;
        CHECK(pitch() > 1.5 * last);
        last = pitch();

        ObservedSpan noisier = a_second;
        noisier.noise *= 10.0;
        CHECK(std::abs(cramer_rao_bound(model, unknowns, noisier).pitch().value() / last - 10.0) < 1e-6);
    }
}

}  // namespace midspan::benchmark
