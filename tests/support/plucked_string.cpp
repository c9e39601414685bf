// plucked_string.cpp: a string to pluck, made of its modes, whose pitch is known exactly.
//
// Room: tests/support.
#include "support/plucked_string.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <numbers>

#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

constexpr double pi = std::numbers::pi;
constexpr double silent = 1e-7;  // of the amplitude: 140 dB down

struct Partial {
    double number;
    double frequency;  // Hz, settled
    double decay_rate;
    double amplitude;
    double phase;
};

struct Glide {
    double epsilon;
    double rate;

    // The integral of 1 + epsilon exp(-rate t): what t becomes for the phase of every partial.
    [[nodiscard]] double stretched(double t) const { return t - epsilon / rate * std::expm1(-rate * t); }
};

double epsilon(Cents glide) { return std::exp2(glide.value() / 1200.0) - 1.0; }

// Up to four partials at a time, so that their recursions do not wait for each other.
constexpr std::size_t lanes = 4;
constexpr std::size_t block = 128;
using Lanes = std::array<double, lanes>;

// z turns by w at every sample, w by c: a quadratic phase through the exact phase at both ends of the block
// and its middle. Every block starts afresh from the exact value, so no rounding piles up.
struct Rotation {
    Lanes z_re{}, z_im{}, w_re{}, w_im{}, c_re{}, c_im{};

    void set(std::size_t lane, const Partial& p, const Glide& glide, double t, double sample_rate) {
        constexpr auto length = static_cast<double>(block);
        const auto phase = [&](double at) { return 2.0 * pi * p.frequency * glide.stretched(at) + p.phase; };
        const double first = phase(t);
        const double middle = phase(t + 0.5 * length / sample_rate);
        const double last = phase(t + length / sample_rate);
        const double bend = 2.0 * (last - 2.0 * middle + first) / (length * length);
        const double step = (last - first) / length - bend * length + bend;
        const double level = p.amplitude * std::exp(-p.decay_rate * t);
        const double loss = std::exp(-p.decay_rate / sample_rate);
        z_re[lane] = level * std::cos(first);
        z_im[lane] = level * std::sin(first);
        w_re[lane] = loss * std::cos(step);
        w_im[lane] = loss * std::sin(step);
        c_re[lane] = std::cos(2.0 * bend);
        c_im[lane] = std::sin(2.0 * bend);
    }

    double next() {
        double sum = 0.0;
        for (std::size_t i = 0; i < lanes; ++i) {
            sum += z_im[i];
            const double re = z_re[i] * w_re[i] - z_im[i] * w_im[i];
            z_im[i] = z_re[i] * w_im[i] + z_im[i] * w_re[i];
            z_re[i] = re;
            const double turn = w_re[i] * c_re[i] - w_im[i] * c_im[i];
            w_im[i] = w_re[i] * c_im[i] + w_im[i] * c_re[i];
            w_re[i] = turn;
        }
        return sum;
    }
};

void add_partials(std::span<double> sound, double sample_rate, double first_time,
                  std::span<const Partial> partials, const Glide& glide, double threshold) {
    double lasts = 0.0;
    for (const Partial& p : partials) {
        lasts = std::max(lasts, std::log(std::abs(p.amplitude) / threshold) / p.decay_rate);
    }
    for (std::size_t begin = 0; begin < sound.size(); begin += block) {
        const double t = first_time + static_cast<double>(begin) / sample_rate;
        if (t > lasts) return;
        Rotation rotation;
        for (std::size_t i = 0; i < partials.size(); ++i)
            rotation.set(i, partials[i], glide, t, sample_rate);
        const std::size_t end = std::min(begin + block, sound.size());
        for (std::size_t n = begin; n < end; ++n)
            sound[n] += rotation.next();
    }
}

double shape(const PluckedString& s, double k) {
    return std::sin(pi * k * s.pluck_position) * std::sin(pi * k * s.pickup_position) /
           std::pow(k, s.roll_off);
}

double decay_rate(const PluckedString& s, Seconds decay, double k) {
    return (1.0 + s.loss_rise * (k * k - 1.0)) / decay.value();
}

// All partials of one pluck, scaled so that their amplitudes add up to the one asked for.
std::vector<Partial> partials_of(const PluckedString& s, Hertz sample_rate, RandomNumbers& random) {
    std::vector<Partial> result;
    const double nyquist = 0.5 * sample_rate.value();
    const double sharpest = 1.0 + std::max(0.0, epsilon(s.glide));
    const double detuned = std::exp2(s.second_plane.detune.value() / 1200.0);
    const auto add = [&](double k, double level, double detune, Seconds decay) {
        const double f = partial_frequency(s, k).value() * detune;
        const double phase = random.uniform(-s.phase_spread, s.phase_spread);
        if (f * sharpest >= nyquist) return;
        result.push_back({k, f, decay_rate(s, decay, k), level * shape(s, k), phase});
    };
    const auto strayed = [&](Cents deviation) {
        return deviation.value() > 0.0 ? std::exp2(deviation.value() * random.normal() / 1200.0) : 1.0;
    };
    for (int k = 1; k <= s.partials; ++k) {
        const double off = k > 1 ? strayed(s.astray) : 1.0;
        add(k, 1.0, off, s.decay);
        if (s.second_plane.ratio > 0.0)
            add(k, s.second_plane.ratio, off * detuned * strayed(s.second_plane.spread),
                s.second_plane.decay);
        if (s.odd_partials) add(k - 0.5, std::pow(10.0, s.odd_partials->value() / 20.0), 1.0, s.decay);
    }
    double sum = 0.0;
    for (const Partial& p : result)
        sum += std::abs(p.amplitude);
    for (Partial& p : result)
        p.amplitude *= s.amplitude / sum;
    return result;
}

double raised_cosine(double x) { return 0.5 - 0.5 * std::cos(pi * std::clamp(x, 0.0, 1.0)); }

}  // namespace

Hertz partial_frequency(const PluckedString& string, double k) {
    const double B = string.inharmonicity;
    return k * std::sqrt((1.0 + B * k * k) / (1.0 + B)) * string.fundamental;
}

Hertz gliding_frequency(const PluckedString& string, Seconds after) {
    return (1.0 + epsilon(string.glide) * std::exp(-2.0 * (after / string.decay))) * string.fundamental;
}

double partial_amplitude(const PluckedString& string, int k, Hertz sample_rate) {
    RandomNumbers random{string.seed};
    for (const Partial& p : partials_of(string, sample_rate, random)) {
        if (p.number == k) return std::abs(p.amplitude);  // of its planes the first comes first
    }
    return 0.0;
}

void add_pluck(std::span<double> sound, Hertz sample_rate, Seconds start, const PluckedString& string) {
    assert(string.fundamental.value() > 0.0 && string.fundamental.value() < 0.5 * sample_rate.value());
    assert(string.decay.value() > 0.0 && string.second_plane.decay.value() > 0.0);
    assert(string.second_plane.ratio >= 0.0 && string.second_plane.ratio < 1.0);
    assert(string.loss_rise >= 0.0 && string.loss_rise < 1.0);
    const double rate = sample_rate.value();
    const double ends = start.value() + string.duration.value() + string.fade.value();
    const auto sample_at = [&](double time) {
        return std::min(sound.size(), static_cast<std::size_t>(std::max(0.0, std::ceil(time * rate))));
    };
    const std::size_t first = sample_at(start.value());
    std::vector<double> tone(sample_at(ends) - first, 0.0);
    const double first_time = static_cast<double>(first) / rate - start.value();

    RandomNumbers random{string.seed};
    const std::vector<Partial> partials = partials_of(string, sample_rate, random);
    const Glide glide{epsilon(string.glide), 2.0 / string.decay.value()};
    for (std::size_t i = 0; i < partials.size(); i += lanes) {
        const std::size_t count = std::min(lanes, partials.size() - i);
        add_partials(tone, rate, first_time, std::span{partials}.subspan(i, count), glide,
                     silent * string.amplitude);
    }

    const double noise = string.amplitude * std::pow(10.0, string.attack_noise.value() / 20.0);
    for (std::size_t n = 0; n < tone.size(); ++n) {
        const double t = first_time + static_cast<double>(n) / rate;
        const double scratch = t / string.attack_noise_for.value();
        if (scratch < 10.0) tone[n] += noise * std::exp(-scratch) * random.normal();
        if (t < string.rise.value()) tone[n] *= raised_cosine(t / string.rise.value());
        const double left = ends - start.value() - t;
        if (left < string.fade.value()) tone[n] *= raised_cosine(left / string.fade.value());
        sound[first + n] += tone[n];
    }
}

std::vector<double> pluck(const PluckedString& string, Hertz sample_rate) {
    const double seconds = string.duration.value() + string.fade.value();
    std::vector<double> sound(static_cast<std::size_t>(seconds * sample_rate.value()) + 1, 0.0);
    add_pluck(sound, sample_rate, Seconds{0.0}, string);
    return sound;
}

PluckedString choked(PluckedString string) {
    string.decay = Seconds{0.01};
    string.second_plane.decay = Seconds{0.01};
    string.glide = Cents{0.0};
    return string;
}

PluckedString ringing_along(PluckedString string, Decibels below) {
    string.amplitude *= std::pow(10.0, -below.value() / 20.0);
    string.rise = Seconds{0.25};
    string.attack_noise = Decibels{-300.0};
    string.glide = Cents{0.0};
    return string;
}

std::vector<float> floats(std::span<const double> sound) {
    std::vector<float> result(sound.size());
    std::transform(sound.begin(), sound.end(), result.begin(),
                   [](double x) { return static_cast<float>(x); });
    return result;
}

}  // namespace midspan::test
