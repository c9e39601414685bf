// disturbances.cpp: what a workshop adds to a string: noise, hum, thumps, talk, a full-scale stop.
//
// Room: tests/support.
#include "support/disturbances.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <vector>

#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

constexpr double pi = std::numbers::pi;

std::size_t sample_at(std::span<const double> sound, Hertz sample_rate, Seconds time) {
    const double n = std::round(time.value() * sample_rate.value());
    return static_cast<std::size_t>(std::clamp(n, 0.0, static_cast<double>(sound.size())));
}

std::span<double> between(std::span<double> sound, Hertz sample_rate, Seconds from, Seconds to) {
    const std::size_t begin = sample_at(sound, sample_rate, from);
    return sound.subspan(begin, sample_at(sound, sample_rate, to) - begin);
}

// Two poles at `frequency`: y_n = x_n + 2 r cos(w) y_(n-1) - r^2 y_(n-2), r = exp(-pi bandwidth / rate),
// with a gain that leaves a tone at the peak about as loud as it was.
class Resonator {
public:
    double next(double x, double frequency, double bandwidth, double rate) {
        const double r = std::exp(-pi * bandwidth / rate);
        const double w = 2.0 * pi * frequency / rate;
        const double y = (1.0 - r) * std::sin(w) * x + 2.0 * r * std::cos(w) * y1_ - r * r * y2_;
        y2_ = y1_;
        y1_ = y;
        return y;
    }

private:
    double y1_ = 0.0;
    double y2_ = 0.0;
};

void add_scaled_to_peak(std::span<double> sound, std::span<const double> added, double amplitude) {
    double peak = 0.0;
    for (const double x : added)
        peak = std::max(peak, std::abs(x));
    if (peak == 0.0) return;
    for (std::size_t n = 0; n < added.size(); ++n)
        sound[n] += amplitude / peak * added[n];
}

// Of noise so far below what `sound` holds in the second after `from`.
double noise_rms(std::span<const double> sound, Hertz sample_rate, Decibels snr, Seconds from) {
    const double power = mean_square(sound, sample_rate, from, from + Seconds{1.0});
    return std::sqrt(power * std::pow(10.0, -snr.value() / 10.0));
}

}  // namespace

double mean_square(std::span<const double> sound, Hertz sample_rate, Seconds from, Seconds to) {
    const std::size_t begin = sample_at(sound, sample_rate, from);
    const std::size_t end = sample_at(sound, sample_rate, to);
    double sum = 0.0;
    for (std::size_t n = begin; n < end; ++n)
        sum += sound[n] * sound[n];
    return end > begin ? sum / static_cast<double>(end - begin) : 0.0;
}

void add_white_noise(std::span<double> sound, double rms, std::uint64_t seed) {
    RandomNumbers random{seed};
    for (double& x : sound)
        x += rms * random.normal();
}

void add_white_noise(std::span<double> sound, Hertz sample_rate, Decibels snr, Seconds from,
                     std::uint64_t seed) {
    add_white_noise(sound, noise_rms(sound, sample_rate, snr, from), seed);
}

void add_coloured_noise(std::span<double> sound, Hertz sample_rate, double rms, std::uint64_t seed) {
    struct LowPass {
        double keep;
        double gain;
        double level = 0.0;
    };
    std::vector<LowPass> filters;
    for (double corner = 10.0; corner < 0.25 * sample_rate.value(); corner *= 2.0) {
        const double keep = std::exp(-2.0 * pi * corner / sample_rate.value());
        filters.push_back({keep, std::sqrt(1.0 - keep * keep)});
    }
    RandomNumbers random{seed};
    const double share = rms / std::sqrt(static_cast<double>(filters.size()));
    for (double& x : sound) {
        for (LowPass& filter : filters) {
            filter.level = filter.keep * filter.level + filter.gain * random.normal();
            x += share * filter.level;
        }
    }
}

void add_coloured_noise(std::span<double> sound, Hertz sample_rate, Decibels snr, Seconds from,
                        std::uint64_t seed) {
    add_coloured_noise(sound, sample_rate, noise_rms(sound, sample_rate, snr, from), seed);
}

void add_hum(std::span<double> sound, Hertz sample_rate, Hertz mains, double amplitude, int harmonics,
             std::uint64_t seed) {
    RandomNumbers random{seed};
    for (int k = 1; k <= harmonics; ++k) {
        const double phase = random.uniform(0.0, 2.0 * pi);
        const double step = 2.0 * pi * k * (mains / sample_rate);
        if (step >= pi) return;
        for (std::size_t n = 0; n < sound.size(); ++n) {
            sound[n] += amplitude / k * std::sin(step * static_cast<double>(n) + phase);
        }
    }
}

void add_dc_offset(std::span<double> sound, double offset) {
    for (double& x : sound)
        x += offset;
}

void add_thump(std::span<double> sound, Hertz sample_rate, Seconds start, double amplitude,
               std::uint64_t seed) {
    RandomNumbers random{seed};
    const std::span<double> here = between(sound, sample_rate, start, start + Seconds{0.2});
    std::vector<double> thump(here.size());
    double dull = 0.0;
    for (std::size_t n = 0; n < thump.size(); ++n) {
        const double t = static_cast<double>(n) / sample_rate.value();
        dull += 0.03 * (random.normal() - dull);
        thump[n] = std::min(1.0, t / 0.002) * (std::exp(-t / 0.02) * std::sin(2.0 * pi * 90.0 * t) +
                                               0.5 * std::exp(-t / 0.012) * std::sin(2.0 * pi * 210.0 * t) +
                                               2.0 * std::exp(-t / 0.008) * dull);
    }
    add_scaled_to_peak(here, thump, amplitude);
}

void add_squeak(std::span<double> sound, Hertz sample_rate, Seconds start, Seconds duration, double amplitude,
                std::uint64_t seed) {
    RandomNumbers random{seed};
    const std::span<double> here = between(sound, sample_rate, start, start + duration);
    std::vector<double> squeak(here.size());
    Resonator band;
    for (std::size_t n = 0; n < squeak.size(); ++n) {
        const double way = std::sin(pi * static_cast<double>(n) / static_cast<double>(squeak.size()));
        squeak[n] = way * band.next(random.normal(), 1000.0 + 2500.0 * way, 250.0, sample_rate.value());
    }
    add_scaled_to_peak(here, squeak, amplitude);
}

void add_talk(std::span<double> sound, Hertz sample_rate, Seconds start, Seconds duration, double amplitude,
              std::uint64_t seed) {
    RandomNumbers random{seed};
    const std::span<double> here = between(sound, sample_rate, start, start + duration);
    std::vector<double> talk(here.size());
    std::array<Resonator, 3> mouth;
    std::array<double, 3> formants{};
    const auto syllable = static_cast<std::size_t>(0.25 * sample_rate.value());
    double pitch_from = 120.0;
    double pitch_to = 120.0;
    double cycle = 0.0;
    for (std::size_t n = 0; n < talk.size(); ++n) {
        if (n % syllable == 0) {
            formants = {random.uniform(300.0, 800.0), random.uniform(900.0, 2200.0),
                        random.uniform(2300.0, 3000.0)};
            pitch_from = pitch_to;
            pitch_to = random.uniform(90.0, 150.0);
        }
        const double along = static_cast<double>(n % syllable) / static_cast<double>(syllable);
        cycle += (pitch_from + along * (pitch_to - pitch_from)) / sample_rate.value();
        double pulse = 0.02 * random.normal();
        if (cycle >= 1.0) {
            cycle -= 1.0;
            pulse += 1.0;
        }
        double voiced = 0.0;
        for (std::size_t i = 0; i < mouth.size(); ++i) {
            voiced +=
                mouth[i].next(pulse, formants[i], 80.0 + 40.0 * static_cast<double>(i), sample_rate.value());
        }
        talk[n] = std::sin(pi * along) * voiced;
    }
    add_scaled_to_peak(here, talk, amplitude);
}

void clip(std::span<double> sound, double full_scale) {
    for (double& x : sound)
        x = std::clamp(x, -full_scale, full_scale);
}

}  // namespace midspan::test
