// window_response_test.cpp: the series for what a window keeps, against the sum that it stands for.
#include "pitch/window_response.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

namespace midspan::test {
namespace {

constexpr double rate = 12000.0;

std::vector<float> hann(std::size_t length) {
    std::vector<float> window(length);
    for (std::size_t i = 0; i < length; ++i) {
        const double x = (static_cast<double>(i) + 0.5) / static_cast<double>(length);
        window[i] = static_cast<float>(1.0 - std::cos(2.0 * std::numbers::pi * x));
    }
    return window;
}

std::complex<double> summed(const std::vector<float>& window, double off, double chirp) {
    std::complex<double> sum{};
    double all = 0.0;
    for (std::size_t i = 0; i < window.size(); ++i) {
        const double t = (static_cast<double>(i) + 0.5 - 0.5 * static_cast<double>(window.size())) / rate;
        const auto weight = static_cast<double>(window[i]);
        sum += std::polar(weight, off * t + 0.5 * chirp * t * t);
        all += weight;
    }
    return sum / all;
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("a tone off the centre keeps what the window's transform says, up to three bins away") {
        const std::vector<float> window = hann(360);  // 30 ms
        const WindowResponse response{window, rate};
        for (const double bins : {0.0, 0.3, 1.0, 1.7, 2.4, 2.8}) {
            const double off = 2.0 * std::numbers::pi * bins / 0.030;
            CAPTURE(bins);
            CHECK(std::abs(response.at(off, 0.0) - summed(window, off, 0.0)) < 1e-5);
            CHECK(std::abs(response.at(-off, 0.0) - summed(window, off, 0.0)) < 1e-5);
        }
    }
    TEST_CASE("a glide of 20 cents a second at 5 kHz turns the phase as the sum says") {
        const std::vector<float> window = hann(360);
        const WindowResponse response{window, rate};
        const double chirp = -2.0 * std::numbers::pi * 5000.0 * 0.0116;  // rad/s^2
        for (const double off : {0.0, 150.0, -300.0}) {
            CAPTURE(off);
            CHECK(std::abs(response.at(off, chirp) - summed(window, off, chirp)) < 1e-4);
            CHECK(std::abs(response.at(off, 0.0) - summed(window, off, chirp)) > 1e-3);
        }
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("however far off, something is kept, so that it can be divided by") {
        const WindowResponse response{hann(360), rate};
        for (const double off : {1e3, 1e5, 1e300, -1e300}) {
            CAPTURE(off);
            CHECK(std::isfinite(std::abs(response.at(off, 0.0))));
            CHECK(std::abs(response.at(off, 0.0)) > 0.0);
        }
        CHECK(std::abs(WindowResponse{}.at(0.0, 0.0)) == 1.0);
    }
}

}  // namespace midspan::test
