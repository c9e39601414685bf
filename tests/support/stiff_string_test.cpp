// stiff_string_test.cpp: the string from its equation of motion obeys that equation.
#include "support/stiff_string.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <span>
#include <vector>

#include "support/disturbances.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

constexpr Hertz rate = 44100.0_hz;

double amplitude_at(std::span<const double> sound, Hertz frequency) {
    std::complex<double> sum = 0.0;
    const auto size = static_cast<double>(sound.size());
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double t = static_cast<double>(n);
        const double weight = 1.0 - std::cos(2.0 * std::numbers::pi * (t + 0.5) / size);
        const double angle = 2.0 * std::numbers::pi * (frequency / rate) * t;
        sum += weight * sound[n] * std::complex<double>{std::cos(angle), -std::sin(angle)};
    }
    return 2.0 * std::abs(sum) / size;
}

Hertz peak_near(std::span<const double> sound, Hertz guess) {
    double best = guess.value();
    for (double step = 0.1; step > 1e-5; step *= 0.5) {
        for (const double side : {best - step, best + step}) {
            if (amplitude_at(sound, Hertz{side}) > amplitude_at(sound, Hertz{best})) best = side;
        }
    }
    return Hertz{best};
}

// f_1 / f_0 of a stiff string clamped at both ends, beta = sqrt(EI/T) / L, from its exact frequency equation
//     (g^2 - a^2) sin a sinh g + 2 a g (1 - cos a cosh g) = 0,   g^2 - a^2 = 1 / beta^2,  w = beta a g
// with w in units of c / L; divided by cosh g, which overflows.
double clamped_ratio(double beta) {
    const auto g_of = [&](double a) { return std::sqrt(a * a + 1.0 / (beta * beta)); };
    const auto equation = [&](double a) {
        const double g = g_of(a);
        return (g * g - a * a) * std::sin(a) * std::tanh(g) +
               2.0 * a * g * (1.0 / std::cosh(g) - std::cos(a));
    };
    double low = std::numbers::pi;
    double high = 1.4 * std::numbers::pi;
    for (int i = 0; i < 100; ++i) {
        const double middle = 0.5 * (low + high);
        ((equation(middle) > 0.0) == (equation(low) > 0.0) ? low : high) = middle;
    }
    return beta * low * g_of(low) / std::numbers::pi;
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("modes of the pinned operator follow the stiff-string law") {
        StiffString string;
        string.ideal_fundamental = 164.8_hz;
        string.inharmonicity = 5e-4;
        string.length = 324.0_mm;
        const std::vector<StringMode> modes = modes_of(string, grid_for(string, rate), 10);
        for (int n = 1; n <= 10; ++n) {
            const Hertz law = n * std::sqrt(1.0 + 5e-4 * n * n) * string.ideal_fundamental;
            // What is left of the grid's error is of fourth order in the wave part: half a cent at mode 10.
            const Cents left{0.002 + 0.5e-2 * n * n};
            CHECK(within(interval(law, modes[static_cast<std::size_t>(n - 1)].frequency), 0.0_cents, left));
        }
    }
    TEST_CASE("losses give mode 1 and a mode at 3 kHz the time constants asked for") {
        StiffString string;
        string.ideal_fundamental = 300.0_hz;
        string.inharmonicity = 0.0;
        const std::vector<StringMode> modes = modes_of(string, grid_for(string, rate), 10);
        CHECK(within(modes[0].decay, 0.9_s, 0.002_s));
        CHECK(within(modes[9].decay, 0.15_s, 0.005_s));
    }
    TEST_CASE("a linear string sounds at the eigenvalue of its operator, pinned or clamped") {
        for (const StringEnds ends : {StringEnds::pinned, StringEnds::clamped}) {
            StiffString string;
            string.ends = ends;
            string.stretch_stiffness = 0.0;
            string.decay = 200.0_s;
            string.decay_at_3_khz = 2.0_s;
            string.duration = 3.0_s;
            const StiffNote note = sound_of(string, rate);
            for (const std::size_t n : {0U, 1U, 6U}) {
                const Hertz truth = note.modes[n].frequency;
                CHECK(within(interval(truth, peak_near(note.samples, truth)), 0.0_cents, 0.002_cents));
            }
        }
    }
    TEST_CASE("a soft pluck sounds at the truth, a strong one above it, and glides down") {
        StiffString string;
        string.decay = 0.4_s;
        string.pluck_height = 0.02_mm;
        const StiffNote soft = sound_of(string, rate);
        string.pluck_height = 3.0_mm;
        const StiffNote strong = sound_of(string, rate);
        const auto part = [](const StiffNote& note, std::size_t from) {
            return std::span{note.samples}.subspan(from, 20000);
        };
        const auto off = [&](const StiffNote& note, std::size_t from) {
            return interval(note.fundamental, peak_near(part(note, from), note.fundamental)).value();
        };
        CHECK(std::abs(off(soft, 0)) < 0.05);
        const double early = off(strong, 0);
        const double late = off(strong, 40000);
        CHECK(early > 1.0);
        CHECK(late < 0.3 * early);
        CHECK(late > 0.0);
    }
    TEST_CASE("energy only ever goes down") {
        StiffString string;
        string.second_plane = {.detune = 0.3_cents, .ratio = 0.4, .decay = 0.7_s};
        const StiffNote note = sound_of(string, rate);
        double before = mean_square(note.samples, rate, 0.0_s, 0.1_s);
        for (int i = 1; i < 19; ++i) {
            const double now = mean_square(note.samples, rate, Seconds{0.1 * i}, Seconds{0.1 * (i + 1)});
            CHECK(now < before);
            before = now;
        }
    }
    TEST_CASE("a finger on the middle leaves the even modes and kills the odd ones") {
        StiffString string;
        string.stretch_stiffness = 0.0;
        const StiffNote open = sound_of(string, rate);
        const StiffNote touched = sound_of(touched_at_12th(string), rate);
        CHECK(touched.fundamental == open.modes[1].frequency);
        const std::size_t lifted = 10000;  // samples, past the touch
        const auto level = [&](const StiffNote& note, std::size_t mode) {
            return amplitude_at(std::span{note.samples}.subspan(lifted), note.modes[mode].frequency);
        };
        for (const std::size_t odd : {0U, 2U, 4U})
            CHECK(level(touched, odd) < 0.003 * level(open, odd));
        for (const std::size_t even : {1U, 3U})
            CHECK(level(touched, even) > 0.5 * level(open, even));
    }
    TEST_CASE("pinned, the harmonic and the fretted octave agree but for the pressing") {
        StiffString open;
        open.ideal_fundamental = 82.4_hz;
        open.inharmonicity = 1.3e-4;
        const StiffString pressed = pressed_at_12th(open, 5.0_cents);
        const Hertz harmonic = modes_of(open, grid_for(open, rate), 2)[1].frequency;
        const Hertz fretted = modes_of(pressed, grid_for(pressed, rate), 1)[0].frequency;
        // 0.01 cent: two grids, and a B that the pressing has lowered by 0.6 %.
        CHECK(within(interval(harmonic, fretted), 5.0_cents, 0.01_cents));
    }
}

TEST_SUITE("published") {
    // Exact roots of the clamped stiff string, worked out from its frequency equation; the series is Morse
    // (1936) as quoted by Anderson and Beausoleil, J. Acoust. Soc. Am. 156, 683 (2024):
    // f_1 / f_0 = 1 + 2 beta + (4 + pi^2 / 2) beta^2.
    TEST_CASE("clamped both ends, beta = 0.00236: f_1 / f_0 = 1.00477") {
        const double beta = 0.00236;
        CHECK(std::abs(clamped_ratio(beta) - 1.004770041) < 1e-8);
        const double series = 1.0 + 2.0 * beta + (4.0 + std::pow(std::numbers::pi, 2.0) / 2.0) * beta * beta;
        CHECK(std::abs(clamped_ratio(beta) - series) < 1e-6);

        StiffString string;
        string.ends = StringEnds::clamped;
        string.inharmonicity = std::pow(std::numbers::pi * beta, 2.0);
        string.decay = 1e6_s;
        string.decay_at_3_khz = 1e6_s;
        // The end's boundary layer is 1.5 mm deep: a grid of 0.16 mm sees it, in steps to suit.
        const Hertz f = modes_of(string, {4000, 4e7_hz}, 1)[0].frequency;
        CHECK(
            within(interval(string.ideal_fundamental, f), interval(1.0_hz, Hertz{1.004770041}), 0.05_cents));
    }
    TEST_CASE("a stiff strip, beta = 0.05, converges to the exact root as the grid is refined") {
        StiffString string;
        string.ends = StringEnds::clamped;
        string.inharmonicity = std::pow(std::numbers::pi * 0.05, 2.0);
        string.decay = 1e6_s;
        string.decay_at_3_khz = 1e6_s;
        const auto off = [&](int pieces) {
            const Hertz f = modes_of(string, {pieces, 1e7_hz}, 1)[0].frequency;
            return std::abs(interval(clamped_ratio(0.05) * string.ideal_fundamental, f).value());
        };
        CHECK(off(60) < 8.0);
        CHECK(off(120) < 0.3 * off(60));  // second order: a quarter
        CHECK(off(240) < 0.3 * off(120));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("the strings of guitar and bass all get a fine grid") {
        for (const double f : {30.9, 41.2, 82.4, 164.8, 329.6, 659.3}) {
            for (const double B : {1e-5, 1.4e-4, 6e-4}) {
                StiffString string;
                string.ideal_fundamental = Hertz{f};
                string.inharmonicity = B;
                CHECK(grid_for(string, 48000.0_hz).pieces >= 90);
            }
        }
    }
    TEST_CASE("beyond their B, partials stay within 2 cents of the stiff-string law up to the fifteenth") {
        StiffString string;
        string.ideal_fundamental = 164.8_hz;
        string.inharmonicity = 5.6e-4;
        string.length = 324.0_mm;
        for (const StringEnds ends : {StringEnds::pinned, StringEnds::clamped}) {
            string.ends = ends;
            const std::vector<StringMode> modes = modes_of(string, grid_for(string, rate), 15);
            const double tenth = std::pow(modes[9].frequency / modes[0].frequency / 10.0, 2.0);
            const double B = (tenth - 1.0) / (100.0 - tenth);
            const PluckedString law{.fundamental = modes[0].frequency, .inharmonicity = B};
            for (int k = 1; k <= 15; ++k) {
                const Hertz f = modes[static_cast<std::size_t>(k - 1)].frequency;
                CHECK(within(interval(partial_frequency(law, k), f), 0.0_cents, 2.0_cents));
            }
        }
    }
}

}  // namespace midspan::test
