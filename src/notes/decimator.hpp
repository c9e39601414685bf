// decimator.hpp: from the rate of the recording down to one of 11 to 16.5 kHz, free of DC.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "midspan/units.hpp"

namespace midspan {

/// By which whole number a sample rate of 8,000 to 192,000 Hz is divided: the least that brings it to 16.5
/// kHz or below without falling below 11 kHz. 1 (samples pass as they are) below 22 kHz.
[[nodiscard]] std::size_t decimation(Hertz sample_rate);

/// Low-pass, every factor-th sample, and a first-order high-pass at 1 Hz.
///
/// The low-pass is a linear-phase FIR, a sinc that cuts off at half the new rate under a Kaiser window:
/// flat within 0.01 dB to 0.35 of the new rate (5.6 kHz at 16 kHz); what folds down to there is at least
/// 80 dB lower. Output m stands for the input at (m - delay) * factor. The high-pass takes 0.003 dB from a
/// tone at 40 Hz and moves its phase by a constant; no steady frequency changes.
///
/// Allocates when it is made, never afterwards.
class Decimator {
public:
    /// at_once  the most outputs one call will ask for
    Decimator(Hertz sample_rate, std::size_t at_once);

    [[nodiscard]] std::size_t factor() const { return factor_; }
    [[nodiscard]] Hertz output_rate() const { return output_rate_; }
    /// In outputs.
    [[nodiscard]] std::size_t delay() const { return delay_; }

    /// input   finite samples, factor() for every output, oldest first
    /// output  at most `at_once`
    void feed(std::span<const float> input, std::span<float> output);

private:
    void low_pass(std::span<const float> input, std::span<float> output);

    std::size_t factor_;
    Hertz output_rate_;
    std::size_t delay_;
    std::vector<float> taps_;    // or none when the factor is 1
    std::vector<float> window_;  // the past the taps reach back to, then the new input
    double mean_ = 0.0;
    double mean_step_;
    bool begun_ = false;
};

}  // namespace midspan
