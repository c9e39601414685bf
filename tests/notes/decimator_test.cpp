// decimator_test.cpp: what the decimator lets through, what it keeps out, and that it bends nothing.
#include "notes/decimator.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <span>
#include <utility>
#include <vector>

#include "midspan/units.hpp"
#include "support/random_numbers.hpp"
#include "support/within.hpp"

namespace midspan::test {
namespace {

using namespace midspan::literals;

constexpr std::size_t at_once = 64;

std::vector<float> sine(Hertz frequency, Hertz sample_rate, Seconds duration) {
    std::vector<float> samples(static_cast<std::size_t>(duration.value() * sample_rate.value()));
    for (std::size_t n = 0; n < samples.size(); ++n) {
        samples[n] = static_cast<float>(
            0.5 * std::sin(2.0 * std::numbers::pi * (frequency / sample_rate) * static_cast<double>(n)));
    }
    return samples;
}

// All whole blocks of `block` outputs there are in `input`.
std::vector<float> decimated(Decimator& decimator, std::span<const float> input,
                             std::size_t block = at_once) {
    std::vector<float> output;
    std::vector<float> some(block);
    const std::size_t step = block * decimator.factor();
    for (; input.size() >= step; input = input.subspan(step)) {
        decimator.feed(input.first(step), some);
        output.insert(output.end(), some.begin(), some.end());
    }
    return output;
}

// Amplitude and phase (of a sine at the decimator's idea of time 0) of one frequency, by a Hann-weighted
// sum over what is left after the first second, when the high-pass has come to rest.
std::complex<double> component(std::span<const float> output, const Decimator& decimator, Hertz frequency) {
    const auto begin = static_cast<std::size_t>(decimator.output_rate().value());
    const std::size_t size = output.size() - begin;
    std::complex<double> sum = 0.0;
    double weights = 0.0;
    for (std::size_t n = 0; n < size; ++n) {
        const double weight = 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * (static_cast<double>(n) + 0.5) /
                                                   static_cast<double>(size));
        const double time = static_cast<double>(begin + n) - static_cast<double>(decimator.delay());
        const double turns = (frequency / decimator.output_rate()) * time;
        sum += weight * static_cast<double>(output[begin + n]) *
               std::polar(1.0, -2.0 * std::numbers::pi * turns);
        weights += weight;
    }
    return 2.0 * sum / weights * std::complex<double>{0.0, 1.0};
}

double decibels(double ratio) { return 20.0 * std::log10(ratio); }

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("a tone between 40 Hz and 0.35 of the new rate passes with its level, and its phase in time") {
        for (const Hertz rate : {22050.0_hz, 44100.0_hz, 48000.0_hz, 96000.0_hz, 192000.0_hz}) {
            for (const double share : {0.0, 0.02, 0.1, 0.2, 0.3, 0.35}) {
                Decimator decimator{rate, at_once};
                const Hertz f = share == 0.0 ? 40.0_hz : share * decimator.output_rate();
                const auto output = decimated(decimator, sine(f, rate, 3.0_s));
                const std::complex<double> tone = component(output, decimator, f) / 0.5;
                CAPTURE(rate.value());
                CAPTURE(f.value());
                CHECK(within(Decibels{decibels(std::abs(tone))}, 0.0_db, 0.01_db));
                // The first-order high-pass leads by atan(1 Hz / f), the same for ever.
                CHECK(std::abs(std::arg(tone) - std::atan(1.0 / f.value())) < 0.001);
            }
        }
    }
    TEST_CASE("what would fold into the partials is 80 dB down") {
        for (const Hertz rate : {22050.0_hz, 44100.0_hz, 48000.0_hz, 96000.0_hz, 192000.0_hz}) {
            Decimator probe{rate, at_once};
            const double out = probe.output_rate().value();
            for (std::size_t image = 1; image <= probe.factor() / 2; ++image) {
                for (const double lands : {-0.35, -0.2, -0.05, 0.05, 0.2, 0.35}) {
                    const Hertz f{out * (static_cast<double>(image) + lands)};
                    if (f.value() >= 0.5 * rate.value()) continue;
                    Decimator decimator{rate, at_once};
                    const auto output = decimated(decimator, sine(f, rate, 2.0_s));
                    const Hertz folded{out * std::abs(lands)};
                    CAPTURE(rate.value());
                    CAPTURE(f.value());
                    CHECK(decibels(std::abs(component(output, decimator, folded)) / 0.5) <= -80.0);
                }
            }
        }
    }
    TEST_CASE("a constant offset is gone from the first sample on") {
        for (const Hertz rate : {8000.0_hz, 48000.0_hz}) {
            Decimator decimator{rate, at_once};
            const std::vector<float> offset(static_cast<std::size_t>(rate.value()), 0.3F);
            float largest = 0.0F;
            for (const float sample : decimated(decimator, offset))
                largest = std::max(largest, std::abs(sample));
            CHECK(largest < 1e-6F);
        }
    }
}

TEST_SUITE("properties") {
    TEST_CASE("every sample rate comes down to between 11 and 16 kHz where it can") {
        for (const auto& [rate, factor] :
             {std::pair{192000.0_hz, 12U}, std::pair{96000.0_hz, 6U}, std::pair{88200.0_hz, 6U},
              std::pair{48000.0_hz, 3U}, std::pair{44100.0_hz, 3U}, std::pair{32000.0_hz, 2U},
              std::pair{24000.0_hz, 2U}, std::pair{22050.0_hz, 2U}, std::pair{16000.0_hz, 1U},
              std::pair{8000.0_hz, 1U}}) {
            CHECK(decimation(rate) == factor);
        }
        for (double rate = 22000.0; rate <= 192000.0; rate += 50.0) {
            const double out = rate / static_cast<double>(decimation(Hertz{rate}));
            CHECK(out >= 11000.0);
            CHECK(out <= 16500.0);
        }
    }
    TEST_CASE("how the input is cut changes no bit of the output") {
        RandomNumbers random{7};
        for (const Hertz rate : {8000.0_hz, 44100.0_hz, 48000.0_hz, 88200.0_hz}) {
            std::vector<float> noise(at_once * 60 * decimation(rate));
            for (float& sample : noise)
                sample = static_cast<float>(0.1 * random.normal());
            Decimator whole{rate, at_once};
            const auto expected = decimated(whole, noise);
            for (const std::size_t block : {std::size_t{1}, std::size_t{5}, std::size_t{32}}) {
                Decimator cut{rate, at_once};
                CHECK(decimated(cut, noise, block) == expected);
            }
        }
    }
}

}  // namespace midspan::test
