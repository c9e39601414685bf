// real_transform_test.cpp: the Fourier transform of real samples.
//
// Room: tests/ground.
#include "ground/real_transform.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <vector>

#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

std::vector<std::complex<float>> transformed(const std::vector<float>& samples) {
    const RealTransform transform{samples.size()};
    std::vector<std::complex<float>> bins(transform.bins());
    transform.transform(samples, bins);
    return bins;
}

}  // namespace

TEST_SUITE("published values") {
    TEST_CASE("a cosine of k turns is N/2 in bin k, a sine -i N/2, a constant N in bin 0") {
        // The discrete Fourier transform of a sinusoid, from memory.
        constexpr std::size_t size = 512;
        std::vector<float> samples(size);
        for (std::size_t n = 0; n < size; ++n) {
            const double turn = 2.0 * std::numbers::pi * static_cast<double>(n) / size;
            samples[n] = static_cast<float>(1.0 + std::cos(5.0 * turn) + std::sin(70.0 * turn) +
                                            std::cos(256.0 * turn));
        }
        const auto bins = transformed(samples);
        REQUIRE(bins.size() == 257);
        for (std::size_t k = 0; k < bins.size(); ++k) {
            const std::complex<float> expected = k == 0     ? std::complex<float>{512.0F, 0.0F}
                                                 : k == 5   ? std::complex<float>{256.0F, 0.0F}
                                                 : k == 70  ? std::complex<float>{0.0F, -256.0F}
                                                 : k == 256 ? std::complex<float>{512.0F, 0.0F}
                                                            : std::complex<float>{};
            CAPTURE(k);
            CHECK(std::abs(bins[k] - expected) < 2e-3F);
        }
    }
}

TEST_SUITE("properties") {
    TEST_CASE("what rounding adds lies 120 dB below the strongest bin") {
        constexpr std::size_t size = 16384;
        std::vector<float> samples(size);
        for (std::size_t n = 0; n < size; ++n)
            samples[n] =
                static_cast<float>(std::sin(2.0 * std::numbers::pi * 300.0 * static_cast<double>(n) / size));
        const auto bins = transformed(samples);
        for (std::size_t k = 0; k < bins.size(); ++k) {
            if (k == 300) continue;
            CAPTURE(k);
            CHECK(std::abs(bins[k]) < 1e-6F * std::abs(bins[300]));
        }
    }

    TEST_CASE("a transform has the power of its samples, whatever the size") {
        // Parseval's theorem, from memory.
        for (const std::size_t size : {6U, 100U, 4096U, 16384U}) {
            RandomNumbers random{size};
            std::vector<float> samples(size);
            double power = 0.0;
            for (float& sample : samples) {
                sample = static_cast<float>(random.uniform(-1.0, 1.0));
                power += static_cast<double>(sample) * static_cast<double>(sample);
            }
            const auto bins = transformed(samples);
            double found = 0.0;
            for (std::size_t k = 0; k < bins.size(); ++k) {
                const bool once = k == 0 || k + 1 == bins.size();
                found += (once ? 1.0 : 2.0) * static_cast<double>(std::norm(bins[k]));
            }
            CAPTURE(size);
            CHECK(found / static_cast<double>(size) == doctest::Approx(power).epsilon(1e-5));
        }
    }
}

}  // namespace midspan::test
