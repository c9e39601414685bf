// coupled_model.cpp: how a string whose planes drive each other sounds, and how its unknowns change that.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/coupled_model.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "ground/unit_circle.hpp"
#include "ground/widest_registers.hpp"
#include "pitch/left_over.hpp"

namespace midspan {
namespace {

using Complex = std::complex<double>;
constexpr double tau = 2.0 * std::numbers::pi;

// By which unknowns planes are swung a little otherwise, and how much.
constexpr std::array<double CoupledPlanes::*, 6> moving{
    &CoupledPlanes::drift, &CoupledPlanes::self,        &CoupledPlanes::angle,
    &CoupledPlanes::phase, &CoupledPlanes::first_decay, &CoupledPlanes::second_decay};
constexpr double small_step = 1e-4;

constexpr double squared(double x) { return x * x; }

double omega_of(const CoupledString& string, const CoupledPartial& partial) {
    return tau * string.law.frequency(partial.number) * std::exp(partial.offset);
}

}  // namespace

CoupledModel::CoupledModel()
    : times_(PartialTracks::most_values),
      taken_out_(PartialTracks::most_values),
      stretched_(PartialTracks::most_values),
      swung_(PartialTracks::most_values),
      turns_(PartialTracks::most_values),
      cosines_(PartialTracks::most_values),
      sines_(PartialTracks::most_values),
      left_(PartialTracks::most_values),
      slopes_(2 * PartialTracks::most_values) {
    for (auto& plane : planes_)
        plane.resize(PartialTracks::most_values);
}

void CoupledModel::lay_out(const PartialTracks& tracks, double since_pluck) {
    since_pluck_ = since_pluck;
    hop_ = tracks.hop();
    for (std::size_t m = 0; m < tracks.length(); ++m) {
        times_[m] = tracks.time(m);
        taken_out_[m] = tracks.taken_out().elapsed(times_[m]);
    }
}

double CoupledModel::glide(const CoupledString& string) const {
    const Stretched& first = stretched_.front();
    return string.stretch * (1.5 * first.now + string.share * first.now_of_others);
}

// As partial 1 swings, and the others.
void CoupledModel::stretch(const CoupledString& string) {
    std::size_t longest = 1;
    for (const CoupledPartial& partial : string.partials())
        longest = std::max(longest, partial.length);
    std::fill_n(stretched_.begin(), longest, Stretched{});
    const double first_plane = squared(std::cos(string.angle));
    const double turning = std::sin(2.0 * string.angle);
    for (const CoupledPartial& partial : string.partials()) {
        const bool first = partial.number == 1;
        const double part = CoupledString::share_of(partial.number);
        for (const bool in_first : {true, false}) {
            const double weight = part * (in_first ? first_plane : 1.0 - first_plane);
            const double rate = 2.0 * std::max(in_first ? partial.first_decay : partial.second_decay, 1e-3);
            const double start = std::exp(-rate * since_pluck_);
            const double by_turning = part * (in_first ? -turning : turning) * (first ? 1.0 : string.share);
            // Values are evenly spaced, so that what is left falls by the same factor from each to the next.
            double left = std::exp(-rate * times_[0]);
            const double one_hop = longest > 1 ? std::exp(-rate * (times_[1] - times_[0])) : 1.0;
            for (std::size_t m = 0; m < longest; ++m) {
                Stretched& here = stretched_[m];
                const double ahead = start * (1.0 - left) / rate;
                here.by_angle += by_turning * ahead;
                if (first) {
                    here.ahead += weight * ahead;
                    here.now += weight * start * left;
                    const double by_rate =
                        start * times_[m] * left / rate - ahead * (since_pluck_ + 1.0 / rate);
                    (in_first ? here.by_first_decay : here.by_second_decay) += weight * 2.0 * by_rate;
                } else {
                    here.ahead_of_others += weight * ahead;
                    here.now_of_others += weight * start * left;
                }
                left *= one_hop;
            }
        }
    }
}

// Swings a partial's planes, and with each unknown that moves them a little otherwise.
void CoupledModel::swing(const CoupledString& string, CoupledPartial& partial) {
    const double omega = omega_of(string, partial);
    if (partial.number == 1) partial.self = 0.5 * string.stretch;
    const CoupledPlanes planes{partial.first_decay,  partial.second_decay, omega * string.law.split,
                               omega * partial.self, string.angle,         string.phase};
    std::array<CoupledPlanes, swung_at_once> others;
    others.fill(planes);
    for (std::size_t i = 0; i < moving.size(); ++i)
        others[i + 1].*moving[i] += small_step;
    midspan::swing(others, since_pluck_ + times_[0], hop_, planes.pace(),
                   std::span{swung_}.first(partial.length));
}

// Turns them by what the law and the stretched string make of the partial's frequency.
void CoupledModel::turn(const PartialTracks& tracks, const CoupledString& string,
                        const CoupledPartial& partial) {
    const double centre = tracks.tracks()[partial.track].centre;
    const double frequency = omega_of(string, partial) / tau;
    const std::size_t length = partial.length;
    // A window sees a partial that dies a little early (PlanesBeside says more).
    const double early = tracks.window_spread() * partial.first_decay;
    for (std::size_t m = 0; m < length; ++m) {
        const Stretched& here = stretched_[m];
        const double elapsed =
            times_[m] + string.stretch * (here.ahead + string.share * here.ahead_of_others -
                                          early * (here.now + string.share * here.now_of_others));
        turns_[m] = frequency * elapsed - centre * taken_out_[m];
    }
    on_unit_circle(std::span{turns_}.first(length), std::span{cosines_}.first(length),
                   std::span{sines_}.first(length));
    for (std::size_t m = 0; m < length; ++m) {
        const Complex turned{cosines_[m], sines_[m]};
        planes_[0][m] = product(swung_[m].first(0), turned);
        planes_[1][m] = product(swung_[m].second(0), turned);
    }
}

void CoupledModel::compare(const PartialTracks& tracks, const CoupledString& string, CoupledPartial& partial,
                           double alike) {
    swing(string, partial);
    turn(tracks, string, partial);
    const auto& values = tracks.tracks()[partial.track].values;
    double first = alike, second = alike;
    Complex common{-alike}, with_first{}, with_second{};
    for (std::size_t m = 0; m < partial.length; ++m) {
        const Complex a = planes_[0][m];
        const Complex b = planes_[1][m];
        first += std::norm(a);
        second += std::norm(b);
        common += turned_back(a, b);
        with_first += turned_back(a, values[m]);
        with_second += turned_back(b, values[m]);
    }
    const double determinant = first * second - std::norm(common);
    partial.gain = {(second * with_first - common * with_second) / determinant,
                    (first * with_second - std::conj(common) * with_first) / determinant};
    partial.squares = 0.0;
    for (std::size_t m = 0; m < partial.length; ++m) {
        left_[m] =
            values[m] - product(partial.gain[0], planes_[0][m]) - product(partial.gain[1], planes_[1][m]);
        partial.squares += std::norm(left_[m]);
    }
}

GramMatrix CoupledModel::common_of_slopes(const CoupledString& string, const CoupledPartial& partial) {
    fill_slopes(string, partial);
    return gram_matrix(std::span{slopes_}.first(2 * partial.length));
}

// By differences of planes swung a little otherwise, as far as unknowns move them.
void CoupledModel::fill_slopes(const CoupledString& string, const CoupledPartial& partial) {
    const double omega = omega_of(string, partial);
    std::array<double, swung_at_once> units;
    units.fill(1.0 / small_step);
    units[by_drift] = units[by_self] = omega / small_step;
    const std::size_t length = partial.length;
    in_widest_registers([&] {
        for (std::size_t m = 0; m < length; ++m) {
            const SwungPlanes& swung = swung_[m];
            const Complex turned{cosines_[m], sines_[m]};
            const Complex with_first = product(turned, partial.gain[0]);
            const Complex with_second = product(turned, partial.gain[1]);
            const Complex a = product(partial.gain[0], planes_[0][m]);
            const Complex b = product(partial.gain[1], planes_[1][m]);
            GramRow& real = slopes_[m];
            GramRow& imaginary = slopes_[length + m];
            for (std::size_t i = 0; i < swung_at_once; i += 4) {
                FourDoubles first_real, first_imaginary, second_real, second_imaginary, unit;
                load(first_real, &swung.first_real[i]);
                load(first_imaginary, &swung.first_imaginary[i]);
                load(second_real, &swung.second_real[i]);
                load(second_imaginary, &swung.second_imaginary[i]);
                load(unit, &units[i]);
                store(unit * (with_first.real() * first_real - with_first.imag() * first_imaginary +
                              with_second.real() * second_real - with_second.imag() * second_imaginary -
                              (a + b).real()),
                      &real[i]);
                store(unit * (with_first.real() * first_imaginary + with_first.imag() * first_real +
                              with_second.real() * second_imaginary + with_second.imag() * second_real -
                              (a + b).imag()),
                      &imaginary[i]);
            }
            const auto set = [&](Slope i, Complex value) {
                real[i] = value.real();
                imaginary[i] = value.imag();
            };
            const Stretched& here = stretched_[m];
            const Complex turning = omega * quarter_turned(a + b);
            const double ahead = here.ahead + string.share * here.ahead_of_others;
            const double by_turning = string.stretch * here.by_angle;
            real[by_angle] += by_turning * turning.real();
            imaginary[by_angle] += by_turning * turning.imag();
            set(by_log_lowest, (times_[m] + string.stretch * ahead) * turning +
                                   string.law.split * Complex{real[by_drift], imaginary[by_drift]} +
                                   partial.self * Complex{real[by_self], imaginary[by_self]});
            set(left_over, left_[m]);
            set(first_plane, a);
            set(first_plane_turned, quarter_turned(a));
            set(second_plane, b);
            set(second_plane_turned, quarter_turned(b));
            set(by_stretch, ahead * turning);
            set(by_share, string.stretch * here.ahead_of_others * turning);
            set(by_first_decay_of_1, string.stretch * here.by_first_decay * turning);
            set(by_second_decay_of_1, string.stretch * here.by_second_decay * turning);
        }
    });
}

}  // namespace midspan
