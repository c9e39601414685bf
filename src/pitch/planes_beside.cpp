// planes_beside.cpp: the planes of a partial laid beside its track.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/planes_beside.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "ground/unit_circle.hpp"
#include "ground/widest_registers.hpp"
#include "pitch/left_over.hpp"

namespace midspan {
namespace {

using Complex = std::complex<double>;
constexpr double tau = 2.0 * std::numbers::pi;

// One or two complex amplitudes by linear least squares.
template <int Planes>
struct LinearPair {
    FourDoubles first{}, second{}, power{};
    FourComplex common, with_first, with_second;

    void take_in(const FourComplex& a, const FourComplex& b, const FourComplex& value) {
        add_norm(a, first);
        add_norm(value, power);
        with_first += turned_back(a, value);
        if constexpr (Planes == 2) {
            add_norm(b, second);
            common += turned_back(a, b);
            with_second += turned_back(b, value);
        }
    }

    // A plane of which nothing is heard keeps a trace, so that its derivatives do not vanish.
    [[nodiscard]] std::array<Complex, 2> solved() const {
        constexpr double trace = 1e-4;
        const double all = std::max(total(power), 1e-30);
        const auto heard = [&](Complex amplitude, double plane) {
            const double least = trace * trace * all / plane;
            return std::norm(amplitude) < least ? Complex{std::sqrt(least)} : amplitude;
        };
        const Complex az = total(with_first);
        if constexpr (Planes == 1) return {heard(az / total(first), total(first)), {}};
        // A little stiffness keeps planes that turn alike from growing against each other.
        const double aa = total(first) * (1.0 + 1e-6);
        const double bb = total(second) * (1.0 + 1e-6);
        const Complex ab = total(common);
        const Complex bz = total(with_second);
        const double determinant = aa * bb - std::norm(ab);
        return {heard((bb * az - ab * bz) / determinant, total(first)),
                heard((aa * bz - std::conj(ab) * az) / determinant, total(second))};
    }
};

// A plane of amplitude one at four values in a row, beside what all planes turn by: it dies, and may drift
// away steadily.
class FourOfPlane {
public:
    FourOfPlane(double decay, double drift, const PartialTracks& tracks) {
        const auto over = [&](double time) {
            return std::exp(-decay * time) * Complex{std::cos(drift * time), std::sin(drift * time)};
        };
        const Complex one_hop = over(tracks.hop());
        Complex value = over(tracks.time(0));
        for (int i = 0; i < 4; ++i) {
            now_.real[i] = value.real();
            now_.imaginary[i] = value.imag();
            value = product(value, one_hop);
        }
        const Complex two_hops = product(one_hop, one_hop);
        four_hops_ = product(two_hops, two_hops);
    }

    void write(ComplexFours& plane, std::size_t length) const {
        FourComplex four = now_;
        for (std::size_t m = 0; m < length; m += 4) {
            plane.set_four(m, four);
            four = product(four_hops_, four);
        }
        plane.end_at(length);
    }

private:
    FourComplex now_;
    Complex four_hops_;
};

}  // namespace

PlanesBeside::PlanesBeside()
    : turns_(PartialTracks::most_values),
      cosines_(PartialTracks::most_values),
      sines_(PartialTracks::most_values),
      values_(PartialTracks::most_values),
      planes_{ComplexFours{PartialTracks::most_values}, ComplexFours{PartialTracks::most_values}},
      rest_(PartialTracks::most_values),
      weights_(PartialTracks::most_values),
      left_(PartialTracks::most_values) {}

// How a partial turns against its track's centre under a law.
//
// A window sees a partial that glides and dies a little early: its own weight and the falling amplitude
// shift the phase by the window's spread times (decay + 1 / T), second order in the window's length.
void PlanesBeside::turn_back(const PartialTracks& tracks, const TimeBases& bases, const StringLaw& law,
                             const FoundPartial& partial) {
    const PartialTrack& track = tracks.tracks()[partial.track];
    length_ = partial.length;
    frequency_ = law.frequency(track.number) * std::exp(partial.offset);
    glide_ = law.glide_of(track.number) + partial.own_glide;
    const double early = tracks.window_spread() * partial.planes[0].decay +
                         tracks.slowing_spread() * std::exp(-law.log_glide_time);
    for (std::size_t m = 0; m < length_; ++m) {
        const TimeBases::AtOnce& base = bases.at(m);
        const double elapsed = base[TimeBases::time] +
                               glide_ * (base[TimeBases::ahead] - early * bases.faded(m)) +
                               law.fast_glide * base[TimeBases::fast_ahead];
        turns_[m] = frequency_ * elapsed - track.centre * bases.taken_out(m);
    }
    on_unit_circle(std::span{turns_}.first(length_), std::span{cosines_}.first(length_),
                   std::span{sines_}.first(length_));
    for (std::size_t m = 0; m < length_; ++m)
        values_.set(m, turned_back(Complex{cosines_[m], sines_[m]}, track.values[m]));
    values_.end_at(length_);
}

double PlanesBeside::lay(const PartialTracks& tracks, const TimeBases& bases, const StringLaw& law,
                         FoundPartial& partial, std::size_t planes) {
    assert(planes == 1 || planes == 2);
    laid_ = planes;
    turn_back(tracks, bases, law, partial);
    return planes == 2 ? lay<2>(tracks, law, partial) : lay<1>(tracks, law, partial);
}

template <int Planes>
double PlanesBeside::lay(const PartialTracks& tracks, const StringLaw& law, FoundPartial& partial) {
    const FourOfPlane first{partial.planes[0].decay, 0.0, tracks};
    const FourOfPlane second{partial.planes[1].decay, tau * frequency_ * law.split, tracks};
    return in_widest_registers([&] {
        first.write(planes_[0], length_);
        if constexpr (Planes == 2) second.write(planes_[1], length_);
        LinearPair<Planes> pair;
        for (std::size_t m = 0; m < length_; m += 4)
            pair.take_in(planes_[0].four_at(m), planes_[1].four_at(m), values_.four_at(m));
        const std::array<Complex, 2> amplitudes = pair.solved();
        for (std::size_t plane = 0; plane < Planes; ++plane)
            partial.planes[plane].log_amplitude = 0.5 * std::log(std::norm(amplitudes[plane]));
        FourDoubles squares{};
        for (std::size_t m = 0; m < length_; m += 4) {
            FourComplex rest = values_.four_at(m);
            for (std::size_t plane = 0; plane < Planes; ++plane) {
                const FourComplex heard = product(amplitudes[plane], planes_[plane].four_at(m));
                planes_[plane].set_four(m, heard);
                rest -= heard;
            }
            rest_.set_four(m, rest);
            add_norm(rest, squares);
        }
        return total(squares);
    });
}

// Two rows of weights, one a value; `of_four` tells them by fours.
template <typename TwoWeights>
TimeBases::Weights<2> PlanesBeside::weights(const TwoWeights& of_four) {
    in_widest_registers([&] {
        for (std::size_t m = 0; m < length_; m += 4) {
            FourComplex four;
            of_four(m, four);
            weights_.set_four(m, four);
        }
    });
    return {weights_.real().first(length_), weights_.imaginary().first(length_)};
}

PlanesBeside::InCommon PlanesBeside::in_common(const TimeBases& bases) {
    InCommon sums;
    const ComplexFours& a = planes_[0];
    const ComplexFours& b = planes_[1];
    const auto powers = weights([&](std::size_t m, FourComplex& powers_of) {
        add_norm(a.four_at(m), powers_of.real);
        if (laid_ == 2) add_norm(b.four_at(m), powers_of.imaginary);
    });
    if (laid_ == 1) {
        sums.first = bases.weighed(TimeBases::Weights<1>{powers[0]})[0];
    } else {
        const auto each = bases.weighed(powers);
        sums.first = each[0];
        sums.second = each[1];
        const auto both = bases.weighed(weights(
            [&](std::size_t m, FourComplex& common) { common = turned_back(a.four_at(m), b.four_at(m)); }));
        sums.even = both[0];
        sums.odd = both[1];
    }
    for (std::size_t plane = 0; plane < laid_; ++plane) {
        const auto rest = bases.weighed_once(weights([&](std::size_t m, FourComplex& turned) {
            turned = turned_back(planes_[plane].four_at(m), rest_.four_at(m));
        }));
        sums.along[plane] = rest[0];
        sums.across[plane] = rest[1];
    }
    return sums;
}

std::span<const Complex> PlanesBeside::left() {
    for (std::size_t m = 0; m < length_; ++m)
        left_[m] = product(Complex{cosines_[m], sines_[m]}, rest_.at(m));
    return std::span{left_}.first(length_);
}

void PlanesBeside::try_splits(const PartialTracks& tracks, const TimeBases& bases, const StringLaw& law,
                              const FoundPartial& partial, std::span<const double> splits,
                              std::span<double> squares) {
    turn_back(tracks, bases, law, partial);
    const double decay = partial.planes[0].decay;
    const FourOfPlane first{decay, 0.0, tracks};
    for (std::size_t i = 0; i < splits.size(); ++i) {
        const FourOfPlane second{decay, tau * frequency_ * splits[i], tracks};
        squares[i] = in_widest_registers([&] {
            first.write(planes_[0], length_);
            second.write(planes_[1], length_);
            LinearPair<2> pair;
            for (std::size_t m = 0; m < length_; m += 4)
                pair.take_in(planes_[0].four_at(m), planes_[1].four_at(m), values_.four_at(m));
            const Complex az = total(pair.with_first);
            const Complex bz = total(pair.with_second);
            const std::array<Complex, 2> amplitudes = pair.solved();
            return total(pair.power) - (std::conj(amplitudes[0]) * az + std::conj(amplitudes[1]) * bz).real();
        });
    }
}

}  // namespace midspan
