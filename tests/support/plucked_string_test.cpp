// plucked_string_test.cpp: the string in support sounds as it promises; the tests lean on it.
#include "support/plucked_string.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <span>
#include <vector>

#include "support/disturbances.hpp"
#include "support/neck_string.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

constexpr Hertz rate = 24000.0_hz;

// Amplitude of what sounds at one frequency, by a Hann-weighted sum over the whole of `sound`.
double amplitude_at(std::span<const double> sound, Hertz frequency, Hertz sample_rate = rate) {
    std::complex<double> sum = 0.0;
    double weights = 0.0;
    const auto size = static_cast<double>(sound.size());
    for (std::size_t n = 0; n < sound.size(); ++n) {
        const double t = static_cast<double>(n);
        const double weight = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * (t + 0.5) / size);
        const double angle = 2.0 * std::numbers::pi * (frequency / sample_rate) * t;
        sum += weight * sound[n] * std::complex<double>{std::cos(angle), -std::sin(angle)};
        weights += weight;
    }
    return 2.0 * std::abs(sum) / weights;
}

// Where the amplitude peaks within a bracket narrower than the main lobe, by golden section.
Hertz peak_near(std::span<const double> sound, Hertz guess) {
    const double ratio = 0.5 * (std::sqrt(5.0) - 1.0);
    double low = guess.value() - 0.5;
    double high = guess.value() + 0.5;
    while (high - low > 1e-7) {
        const double a = high - ratio * (high - low);
        const double b = low + ratio * (high - low);
        if (amplitude_at(sound, Hertz{a}) > amplitude_at(sound, Hertz{b})) {
            high = b;
        } else {
            low = a;
        }
    }
    return Hertz{0.5 * (low + high)};
}

// Rings as good as for ever, with nothing but its partials.
PluckedString steady_string() {
    PluckedString string;
    string.fundamental = 164.2_hz;
    string.inharmonicity = 5e-4;
    string.decay = 1e9_s;
    string.duration = 1.0_s;
    string.rise = 1e-9_s;
    string.fade = 1e-9_s;
    string.attack_noise = Decibels{-300.0};
    return string;
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("partials of a string that does not die lie where the stiff-string law puts them") {
        const PluckedString string = steady_string();
        const std::vector<double> sound = pluck(string, rate);
        for (const int k : {1, 2, 7, 20}) {
            const double law = k * 164.2 * std::sqrt((1.0 + 5e-4 * k * k) / (1.0 + 5e-4));
            // 2e-4 Hz: side lobes of the neighbours, 80 dB down at 160 widths of the window, move the peak.
            CHECK(within(peak_near(sound, Hertz{law}), Hertz{law}, 2e-4_hz));
        }
    }
    TEST_CASE("partials sound as strong as they claim, and together as strong as asked for") {
        const PluckedString string = steady_string();
        const std::vector<double> sound = pluck(string, rate);
        double sum = 0.0;
        for (int k = 1; k <= string.partials; ++k) {
            const double claimed = partial_amplitude(string, k, rate);
            CHECK(std::abs(amplitude_at(sound, partial_frequency(string, k)) - claimed) < 1e-4);
            sum += claimed;
        }
        CHECK(std::abs(sum - string.amplitude) < 1e-12);
    }
    TEST_CASE("the glide starts as sharp as asked and is down to 1/e after half the decay") {
        PluckedString string = steady_string();
        string.decay = 0.8_s;
        string.glide = 10.0_cents;
        CHECK(within(interval(string.fundamental, gliding_frequency(string, 0.0_s)), 10.0_cents, 1e-9_cents));
        CHECK(within(interval(string.fundamental, gliding_frequency(string, 0.4_s)),
                     Cents{10.0 / std::numbers::e}, 0.01_cents));
    }
    TEST_CASE("the phase is the integral of the gliding frequency") {
        PluckedString string = steady_string();
        string.partials = 1;
        string.phase_spread = 0.0;
        string.decay = 0.5_s;
        string.glide = 20.0_cents;
        const std::vector<double> sound = pluck(string, rate);
        double cycles = 0.0;  // by the trapezoid rule, sample by sample
        double worst = 0.0;
        for (std::size_t n = 0; n < 20000; ++n) {
            const double t = static_cast<double>(n) / rate.value();
            const double expected = 0.5 * std::exp(-t / 0.5) * std::sin(2.0 * std::numbers::pi * cycles);
            if (n > 0) worst = std::max(worst, std::abs(sound[n] - expected));
            cycles += 0.5 *
                      (gliding_frequency(string, Seconds{t}).value() +
                       gliding_frequency(string, Seconds{t + 1.0 / rate.value()}).value()) /
                      rate.value();
        }
        CHECK(worst < 1e-5);  // of an amplitude of 0.5
    }
    TEST_CASE("a higher partial dies faster by the loss law") {
        PluckedString string = steady_string();
        string.decay = 0.5_s;
        string.loss_rise = 0.02;
        const std::vector<double> sound = pluck(string, rate);
        const std::span<const double> early = std::span{sound}.subspan(2000, 4000);
        const std::span<const double> late = std::span{sound}.subspan(14000, 4000);
        for (const int k : {1, 5}) {
            const Hertz f = partial_frequency(string, k);
            const double expected = 0.5 * (1.0 + 0.02 * (k * k - 1)) / 0.5;  // nepers within half a second
            CHECK(std::abs(std::log(amplitude_at(early, f) / amplitude_at(late, f)) - expected) < 0.01);
        }
    }
    TEST_CASE("the odd partials of a touched harmonic are modes of the open string") {
        const NeckString string{.open = 82.4_hz, .inharmonicity = 1.3e-4, .manner = steady_string()};
        PluckedString open = string.open_note();
        const PluckedString harmonic = string.harmonic();
        for (const int mode : {1, 2, 3, 5, 8}) {
            CHECK(within(partial_frequency(harmonic, 0.5 * mode), partial_frequency(open, mode), 1e-9_hz));
        }
        const std::vector<double> touched = pluck(harmonic, rate);
        const std::vector<double> pressed = pluck(string.fretted(), rate);
        const Hertz odd = partial_frequency(harmonic, 1.5);
        CHECK(amplitude_at(touched, odd) > 30.0 * amplitude_at(pressed, odd));
    }
    TEST_CASE("partials go astray by as much as asked, the lowest never") {
        PluckedString string = steady_string();
        string.partials = 2;
        string.astray = 30.0_cents;
        const Hertz second = partial_frequency(string, 2);
        double squares = 0.0;
        constexpr int strings = 20;
        for (int i = 0; i < strings; ++i) {
            string.seed = static_cast<std::uint64_t>(100 + i);
            const std::vector<double> sound = pluck(string, rate);
            CHECK(amplitude_at(sound, string.fundamental) > 0.999 * partial_amplitude(string, 1, rate));
            const auto part = std::span{sound}.first(sound.size() / 8);
            Hertz loudest = second;
            for (double cents = -120.0; cents <= 120.0; cents += 10.0) {
                const Hertz f = raised(second, Cents{cents});
                if (amplitude_at(part, f) > amplitude_at(part, loudest)) loudest = f;
            }
            squares += std::pow(interval(second, loudest).value(), 2.0);
        }
        // Twenty draws tell a standard deviation to 16 %.
        CHECK(std::abs(std::sqrt(squares / strings) - 30.0) < 12.0);
    }
    TEST_CASE("the second plane beats against the first") {
        PluckedString string = steady_string();
        string.partials = 1;
        string.phase_spread = 0.0;
        string.second_plane = {.detune = 40.0_cents, .ratio = 0.5, .decay = 1e9_s};
        const std::vector<double> sound = pluck(string, rate);
        // 40 cents above 164.2 Hz is 3.838 Hz: together at the pluck, against each other after 0.1303 s.
        const auto loudest = [&](double from, double to) {
            double peak = 0.0;
            for (double t = from; t < to; t += 1.0 / rate.value()) {
                peak = std::max(peak, std::abs(sound[static_cast<std::size_t>(t * rate.value())]));
            }
            return peak;
        };
        CHECK(std::abs(loudest(0.0, 0.02) - 0.5) < 0.02);
        CHECK(std::abs(loudest(0.12, 0.14) - 0.5 / 3.0) < 0.02);
    }
}

TEST_SUITE("properties") {
    TEST_CASE("the same seed plucks the same samples, another seed others") {
        PluckedString string;
        string.duration = 0.2_s;
        const std::vector<double> once = pluck(string, rate);
        CHECK(once == pluck(string, rate));
        string.seed = 2;
        CHECK(once != pluck(string, rate));
    }
    TEST_CASE("noise stands as far below the string as asked") {
        const PluckedString string;
        const std::vector<double> clean = pluck(string, rate);
        std::vector<double> noisy = clean;
        add_white_noise(noisy, rate, 20.0_db, 0.0_s, 7);
        double noise = 0.0;
        for (std::size_t n = 0; n < clean.size(); ++n) {
            noise += (noisy[n] - clean[n]) * (noisy[n] - clean[n]);
        }
        noise /= static_cast<double>(clean.size());
        const double snr = 10.0 * std::log10(mean_square(clean, rate, 0.0_s, 1.0_s) / noise);
        CHECK(within(Decibels{snr}, 20.0_db, 0.2_db));  // 72,000 draws: standard deviation 0.02 dB
    }
    TEST_CASE("coloured noise loses 3 dB an octave") {
        std::vector<double> noise(1U << 17U);
        add_coloured_noise(noise, rate, 0.1, 5);
        CHECK(std::abs(std::sqrt(mean_square(noise, rate, 0.0_s, 5.4_s)) - 0.1) < 0.01);
        const auto power_near = [&](double frequency) {
            double sum = 0.0;  // over 100 lines within half an octave
            for (int i = 0; i < 100; ++i) {
                const double f = frequency * std::exp2((i - 50) / 200.0);
                sum += std::pow(amplitude_at(noise, Hertz{f}), 2.0);
            }
            return 10.0 * std::log10(sum);
        };
        CHECK(within(Decibels{power_near(200.0) - power_near(1600.0)}, Decibels{9.03}, 2.0_db));
    }
    TEST_CASE("coloured noise stands as far below the string as white noise would") {
        const PluckedString string;
        const std::vector<double> clean = pluck(string, rate);
        std::vector<double> noisy = clean;
        add_coloured_noise(noisy, rate, 20.0_db, 0.0_s, 7);
        for (std::size_t n = 0; n < clean.size(); ++n)
            noisy[n] -= clean[n];
        const double noise = mean_square(noisy, rate, 0.0_s, 3.0_s);
        const double snr = 10.0 * std::log10(mean_square(clean, rate, 0.0_s, 1.0_s) / noise);
        CHECK(within(Decibels{snr}, 20.0_db, 1.0_db));  // standard deviation 0.12 dB
    }
    TEST_CASE("a string that rings along is as far below the plucked one as asked, and swells") {
        PluckedString string = steady_string();
        string.partials = 1;
        const std::vector<double> plucked = pluck(string, rate);
        const std::vector<double> along = pluck(ringing_along(string, 30.0_db), rate);
        const auto level = [&](const std::vector<double>& sound, Seconds from) {
            return Decibels{10.0 * std::log10(mean_square(sound, rate, from, from + 0.02_s))};
        };
        CHECK(within(level(plucked, 0.5_s) - level(along, 0.5_s), 30.0_db, 0.01_db));
        CHECK(level(along, 0.0_s) < level(along, 0.1_s) - 20.0_db);
        CHECK(level(along, 0.1_s) < level(along, 0.3_s));
    }
    TEST_CASE("a take knows when each note was plucked and what error was played") {
        const NeckString string{.open = 110.0_hz, .error = 4.0_cents};
        const Take take = take_of(string, {.pairs = 2, .ring = 0.5_s, .scatter = 0.3_cents});
        REQUIRE(take.plucks.size() == 4);
        CHECK(take.plucks[0].kind == NoteKind::harmonic);
        CHECK(take.plucks[1].kind == NoteKind::fretted);
        CHECK(within(take.played_error(), 4.0_cents, 1.5_cents));
        CHECK(take.played_error() != 4.0_cents);
        for (const TakenPluck& pluck : take.plucks) {
            const double before =
                mean_square(take.samples, take.sample_rate, pluck.start - 0.05_s, pluck.start);
            const double after =
                mean_square(take.samples, take.sample_rate, pluck.start, pluck.start + 0.05_s);
            CHECK(after > 1000.0 * before);
        }
    }
    TEST_CASE("a choked note is gone after a twelfth of a second") {
        PluckedString string = choked(PluckedString{});
        const std::vector<double> sound = pluck(string, rate);
        CHECK(mean_square(sound, rate, 0.0_s, 0.01_s) > 1e-4);
        CHECK(mean_square(sound, rate, Seconds{1.0 / 12.0}, 1.0_s) < 1e-9);
    }
}

}  // namespace midspan::test
