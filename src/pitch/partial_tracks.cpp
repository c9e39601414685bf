// partial_tracks.cpp: each partial of a note brought down to rest, at a low rate.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/partial_tracks.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>
#include <utility>

#include "ground/sum_of_products.hpp"
#include "ground/unit_circle.hpp"
#include "pitch/blackman_harris.hpp"
#include "pitch/left_over.hpp"

namespace midspan {
namespace {

constexpr double tau = 2.0 * std::numbers::pi;
constexpr std::size_t longest_hop = 4095;  // half a window
constexpr std::size_t fewest_early_values = 5;
constexpr double early_time = 0.4;  // s

// ln f: where low partials stand further from the law than that, high ones lead astray.
constexpr double led_astray = 1.0 / 1731.234;  // a cent

std::complex<double> unit(double angle) { return {std::cos(angle), std::sin(angle)}; }

// How a partial turns from one value to the next, and how steadily.
struct Turning {
    double frequency;  // Hz against the centre
    double coherence;  // 1 a tone, 0 noise
    double energy;
};

Turning turning(std::span<const std::complex<double>> values, double hop) {
    // Windows two hops apart do not overlap, so noise does not look coherent; a step of one hop tells which
    // of the turns that two hops leave open is meant.
    std::complex<double> one{};
    std::complex<double> two{};
    double energy = 0.0;
    for (std::size_t m = 0; m + 2 < values.size(); ++m) {
        one += values[m + 1] * std::conj(values[m]);
        two += values[m + 2] * std::conj(values[m]);
        energy += std::norm(values[m]);
    }
    if (!(energy > 0.0)) return {0.0, 0.0, 0.0};
    const double coarse = 2.0 * std::arg(one);
    const double fine = std::arg(two);
    const double whole = std::round((coarse - fine) / tau);
    return {(fine + whole * tau) / (2.0 * tau * hop), std::abs(two) / energy, energy};
}

}  // namespace

PartialTracks::Wave::Wave() : cosine_(longest_hop), sine_(longest_hop) {}

void PartialTracks::Wave::tune(std::span<const float> half_window, double turn, std::size_t window) {
    const std::size_t hop = half_window.size();
    half_ = hop;
    std::complex<double> phasor = unit(0.5 * turn);
    const std::complex<double> step = unit(turn);
    for (std::size_t i = 0; i < hop; ++i) {
        cosine_[i] = half_window[i] * static_cast<float>(phasor.real());
        sine_[i] = -half_window[i] * static_cast<float>(phasor.imag());
        phasor *= step;
    }
    turned_ = unit(-turn * static_cast<double>(window * hop));
    one_window_ = unit(-turn * static_cast<double>(hop));
}

std::complex<double> PartialTracks::Wave::next(std::span<const float> folded) {
    const double real = sum_of_products(folded.first(half_), std::span{cosine_}.first(half_));
    const double imaginary = sum_of_products(folded.subspan(half_, half_), std::span{sine_}.first(half_));
    return std::complex{real, imaginary} * std::exchange(turned_, turned_ * one_window_);
}

PartialTracks::PartialTracks()
    : tracks_(most_heard),
      window_(2 * longest_hop),
      folded_(2 * longest_hop * fewest_early_values),
      waves_(most_partials),
      elapsed_(most_values),
      faded_(most_values),
      turns_(most_values),
      cosines_(most_values),
      sines_(most_values),
      settling_(most_values) {
    for (PartialTrack& track : tracks_) {
        track.values.reserve(most_values);
    }
}

void PartialTracks::follow(std::span<const float> samples, Hertz sample_rate, Hertz coarse) {
    const double rate = sample_rate.value();
    const double wanted = std::max(8.0 / coarse.value(), 0.030) * rate;
    hop_samples_ = std::min(static_cast<std::size_t>(wanted / 2.0 + 0.5), longest_hop);
    const std::size_t taps = 2 * hop_samples_;
    hop_ = static_cast<double>(hop_samples_) / rate;
    first_middle_ = 0.5 * static_cast<double>(taps) / rate;
    length_ = samples.size() < taps ? 0 : std::min(most_values, (samples.size() - taps) / hop_samples_ + 1);
    count_ = 0;
    first_ = 0.0;
    guess_ = {};
    guess_.log_lowest = std::log(coarse.value());
    taken_out_ = {};
    settled_ = false;
    if (length_ < 4) return;

    shape_window(rate);
    const auto half_window = std::span{window_}.subspan(hop_samples_, hop_samples_);
    const auto turn_of = [&](const PartialTrack& track) { return tau * track.centre / rate; };

    std::array<double, most_heard> frequencies{};
    std::array<double, most_heard> weights{};
    const auto early = std::min({length_, folded_.size() / taps,
                                 std::max(fewest_early_values, static_cast<std::size_t>(early_time / hop_))});
    for (std::size_t m = 0; m < early; ++m)
        fold(samples, m, folded(m));
    std::array<bool, most_heard> clear{};
    double strongest = 0.0;
    for (std::size_t i = 0; i < most_heard; ++i) {
        const double centre = guess_.frequency(static_cast<int>(i + 1));
        if (centre > 0.42 * rate) break;
        PartialTrack& track = tracks_[i];
        track.number = static_cast<int>(i + 1);
        track.centre = centre;
        track.values.clear();
        waves_[0].tune(half_window, turn_of(track), 0);
        for (std::size_t m = 0; m < early; ++m)
            track.values.push_back(waves_[0].next(folded(m)));
        ++count_;

        const Turning turn = turning(track.values, hop_);
        strongest = std::max(strongest, turn.energy);
        // A partial that sounds turns steadily, lies near where it was looked for, and is not 70 dB down.
        track.fits = turn.coherence > 0.5 && std::abs(turn.frequency) < 0.2 * coarse.value() &&
                     turn.energy > 1e-7 * strongest;
        frequencies[i] = centre + turn.frequency;
        clear[i] = turn.coherence > 0.9 && turn.energy > 1e-4 * strongest;
        weights[i] = track.fits ? turn.energy * turn.coherence : 0.0;
        fit_law(std::span{frequencies}.first(count_), std::span{weights}.first(count_));
    }

    constexpr std::size_t low_partials = 8;
    double squares = 0.0;
    double heard = 0.0;
    for (std::size_t i = 0; i < std::min(count_, low_partials); ++i) {
        if (!clear[i]) continue;
        const double off = std::log(frequencies[i] / guess_.frequency(static_cast<int>(i + 1)));
        squares += off * off;
        heard += 1.0;
    }
    astray_ = heard < 4.0 ? 0.0 : std::sqrt(squares / (heard - 2.0));

    if (astray_ < led_astray) choose_partials();
    count_ = std::min(count_, most_partials);
    for (std::size_t i = 0; i < count_; ++i)
        waves_[i].tune(half_window, turn_of(tracks_[i]), early);
    for (std::size_t m = early; m < length_; ++m) {
        fold(samples, m, folded(0));
        for (std::size_t i = 0; i < count_; ++i)
            tracks_[i].values.push_back(waves_[i].next(folded(0)));
    }
}

// What a cosine about the middle of window m sees, outwards, and then what a sine does.
void PartialTracks::fold(std::span<const float> samples, std::size_t m, std::span<float> folded) const {
    const float* after = samples.data() + (m + 1) * hop_samples_;
    const float* before = after - 1;
    for (std::size_t i = 0; i < hop_samples_; ++i) {
        const float left = *(before - i);
        folded[i] = after[i] + left;
        folded[hop_samples_ + i] = after[i] - left;
    }
}

// What a partial tells about ln f_1 in even noise: the square of k times its amplitude, summed over the times
// from their middle. It is heard to die over its first values.
double PartialTracks::told_about_pitch(const PartialTrack& track) const {
    const auto power = [&](std::size_t from, std::size_t to) {
        double sum = 0.0;
        for (std::size_t m = from; m < to; ++m)
            sum += std::norm(track.values[m]);
        return std::max(sum, 1e-30);
    };
    const std::size_t half = track.values.size() / 2;
    const double apart = hop_ * static_cast<double>(track.values.size() - half);
    const double fall = std::max(0.1, std::log(power(0, half) / power(half, 2 * half)) / apart);
    constexpr int steps = 16;
    const double step = hop_ * static_cast<double>(length_) / steps;
    double s = 0.0, st = 0.0, stt = 0.0;
    for (int i = 0; i < steps; ++i) {
        const double t = (i + 0.5) * step;
        const double weight = std::exp(-fall * t);
        s += weight;
        st += weight * t;
        stt += weight * t * t;
    }
    return static_cast<double>(track.number * track.number) * power(0, half) * (stt - st * st / s);
}

// The lowest few always: they hold the law to the pitch. Of the others, those that tell most.
void PartialTracks::choose_partials() {
    constexpr std::size_t lowest_few = 5;
    if (count_ <= most_partials) return;
    std::array<double, most_heard + 1> told{};  // by number
    for (std::size_t i = 0; i < count_; ++i) {
        const PartialTrack& track = tracks_[i];
        told[static_cast<std::size_t>(track.number)] = track.fits ? told_about_pitch(track) : 0.0;
    }
    const auto tells_more = [&](const PartialTrack& one, const PartialTrack& other) {
        return told[static_cast<std::size_t>(one.number)] > told[static_cast<std::size_t>(other.number)];
    };
    const auto begin = tracks_.begin();
    std::sort(begin + lowest_few, begin + static_cast<std::ptrdiff_t>(count_), tells_more);
    std::sort(begin + lowest_few, begin + static_cast<std::ptrdiff_t>(most_partials),
              [](const PartialTrack& one, const PartialTrack& other) { return one.number < other.number; });
}

void PartialTracks::shape_window(double rate) {
    const std::size_t taps = 2 * hop_samples_;
    double sum = 0.0, spread = 0.0, squares = 0.0, common = 0.0;
    for (std::size_t i = 0; i < taps; ++i) {
        const double w = blackman_harris((static_cast<double>(i) + 0.5) / static_cast<double>(taps));
        const double from_middle = (static_cast<double>(i) + 0.5) / rate - first_middle_;
        window_[i] = static_cast<float>(w);
        sum += w;
        spread += w * from_middle * from_middle;
        squares += w * w;
        if (i >= hop_samples_) common += w * static_cast<double>(window_[i - hop_samples_]);
    }
    const auto scale = static_cast<float>(2.0 / sum);  // a track's length is the amplitude
    for (std::size_t i = 0; i < taps; ++i) {
        window_[i] *= scale;
    }
    window_spread_ = spread / sum;
    response_ = WindowResponse{std::span{window_}.first(taps), rate};
    neighbour_correlation_ = common / squares;
    overlap_ = 1.0 + 2.0 * neighbour_correlation_;
}

void PartialTracks::settle(const PartialTracks& raw, const StringLaw& law, std::size_t count) {
    count_ = raw.count_;
    length_ = raw.length_ / count;
    hop_ = raw.hop_ * static_cast<double>(count);
    first_ = raw.first_ + 0.5 * raw.hop_ * static_cast<double>(count - 1);
    first_middle_ = raw.first_middle_;
    window_spread_ = raw.window_spread_;
    settled_ = true;
    const double n = static_cast<double>(count);
    const double one_value = 1.0 + 2.0 * (1.0 - 1.0 / n) * raw.neighbour_correlation_;
    overlap_ = raw.overlap_ / one_value;
    guess_ = law;
    taken_out_ = law;
    for (std::size_t i = 0; i < count_; ++i) {
        const PartialTrack& from = raw.tracks_[i];
        PartialTrack& to = tracks_[i];
        to.number = from.number;
        to.fits = from.fits;
        to.centre = law.frequency(from.number);
        to.values.assign(length_, {});
    }
    raw_values_ = length_ * count;
    for (std::size_t m = 0; m < raw_values_; ++m) {
        elapsed_[m] = law.elapsed(raw.time(m));
        faded_[m] = law.faded(raw.time(m));
    }
    for (std::size_t i = 0; i < count_; ++i) {
        const auto factors = settling(raw, i);
        for (std::size_t m = 0; m < raw_values_; ++m)
            tracks_[i].values[m / count] += product(factors[m], raw.tracks_[i].values[m]) / n;
    }
}

std::span<const std::complex<double>> PartialTracks::settling(const PartialTracks& raw, std::size_t track) {
    const PartialTrack& to = tracks_[track];
    const double from = raw.tracks_[track].centre;
    for (std::size_t m = 0; m < raw_values_; ++m)
        turns_[m] = from * raw.time(m) - to.centre * elapsed_[m];
    on_unit_circle(std::span{turns_}.first(raw_values_), std::span{cosines_}.first(raw_values_),
                   std::span{sines_}.first(raw_values_));
    for (std::size_t m = 0; m < raw_values_; ++m) {
        const double rate = taken_out_.rate(to.number, faded_[m]);
        const double off = tau * (to.centre * rate - from);
        const double chirp = tau * to.centre * -taken_out_.fading() * (rate - 1.0);
        const std::complex<double> kept = raw.response_.at(off, chirp);
        settling_[m] = turned_back(kept, {cosines_[m], sines_[m]}) / std::norm(kept);
    }
    return std::span{settling_}.first(raw_values_);
}

double PartialTracks::strayed_from(const PartialTracks& raw, const StringLaw& law) const {
    double most = 0.0;
    for (std::size_t i = 0; i < count_; ++i) {
        if (!tracks_[i].fits) continue;
        const int number = tracks_[i].number;
        for (const double t : {time(0), time(length_ - 1)}) {
            const auto off = [&](const StringLaw& of) {
                return tau * (of.frequency(number) * of.rate(number, of.faded(t)) - raw.tracks_[i].centre);
            };
            const double change = off(law) * off(law) - off(taken_out_) * off(taken_out_);
            most = std::max(most, 0.5 * window_spread_ * std::abs(change));
        }
    }
    return most;
}

// (f_k / k)^2 = f_0^2 + f_0^2 B k^2 is a straight line in k^2: weighted least squares, B >= 0.
void PartialTracks::fit_law(std::span<const double> frequencies, std::span<const double> weights) {
    double s = 0.0, sx = 0.0, sxx = 0.0, sy = 0.0, sxy = 0.0;
    for (std::size_t i = 0; i < frequencies.size(); ++i) {
        const double k = static_cast<double>(i + 1);
        const double x = k * k;
        const double per_partial = frequencies[i] / k;
        const double y = per_partial * per_partial;
        const double w = weights[i] * x;  // an error of f_k counts 1/k in y
        s += w;
        sx += w * x;
        sxx += w * x * x;
        sy += w * y;
        sxy += w * x * y;
    }
    if (!(s > 0.0)) return;
    const double spread = s * sxx - sx * sx;
    double slope = spread > 1e-9 * s * sxx ? (s * sxy - sx * sy) / spread : 0.0;
    slope = std::max(slope, 0.0);
    const double level = (sy - slope * sx) / s;
    if (!(level > 0.0)) return;
    guess_.inharmonicity = std::min(slope / level, 0.02);
    guess_.log_lowest = 0.5 * std::log(level * (1.0 + guess_.inharmonicity));
}

}  // namespace midspan
