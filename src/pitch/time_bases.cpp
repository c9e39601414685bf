// time_bases.cpp: the functions of time that the unknowns of a plucked string multiply.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/time_bases.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <tuple>
#include <utility>

#include "ground/widest_registers.hpp"

namespace midspan {
namespace {

// All weights' sums together, so that none waits for the one before it.
template <std::size_t Rows, typename Bases>
auto sums_of(const TimeBases::Weights<Rows>& weights, std::span<const Bases> bases) {
    constexpr std::size_t fours = std::tuple_size_v<Bases> / 4;
    const std::size_t length = weights[0].size();
    assert(length <= bases.size());
    std::array<Bases, Rows> result;
    in_widest_registers([&] {
        std::array<std::array<FourDoubles, fours>, Rows> sums{};
        for (std::size_t m = 0; m < length; ++m) {
            for (std::size_t i = 0; i < fours; ++i) {
                FourDoubles four;
                load(four, &bases[m][4 * i]);
                for (std::size_t row = 0; row < Rows; ++row)
                    sums[row][i] += weights[row][m] * four;
            }
        }
        for (std::size_t row = 0; row < Rows; ++row) {
            for (std::size_t i = 0; i < fours; ++i)
                store(sums[row][i], &result[row][4 * i]);
        }
    });
    return result;
}

}  // namespace

TimeBases::TimeBases()
    : values_(PartialTracks::most_values),
      products_(PartialTracks::most_values),
      faded_(PartialTracks::most_values),
      taken_out_(PartialTracks::most_values) {}

void TimeBases::lay_out(const PartialTracks& tracks, std::size_t length) {
    assert(length <= tracks.length());
    length_ = length;
    for (std::size_t m = 0; m < length; ++m) {
        const double t = tracks.time(m);
        values_[m] = {1.0, t};
        taken_out_[m] = tracks.taken_out().elapsed(t);
    }
}

void TimeBases::drive_fast_glide(std::span<const Driver> drivers) {
    double weights = 0.0;
    for (const Driver& driver : drivers) {
        weights += driver.weight;
    }
    for (std::size_t m = 0; m < length_; ++m) {
        double sum = 0.0;
        for (const Driver& driver : drivers) {
            const double rate = 2.0 * driver.decay;
            sum += driver.weight * (1.0 - std::exp(-rate * values_[m][time])) / rate;
        }
        values_[m][fast_ahead] = weights > 0.0 ? sum / weights : 0.0;
    }
}

void TimeBases::set_log_glide_time(double log_glide_time) {
    if (length_ == 0) return;
    const double rate = std::exp(-log_glide_time);
    // Values are evenly spaced, so what is left falls by the same factor from each to the next.
    double faded = std::exp(-2.0 * values_[0][time] * rate);
    const double one_hop = length_ > 1 ? std::exp(-2.0 * (values_[1][time] - values_[0][time]) * rate) : 1.0;
    for (std::size_t m = 0; m < length_; ++m) {
        AtOnce& base = values_[m];
        faded_[m] = std::exchange(faded, faded * one_hop);
        base[ahead] = 0.5 * (1.0 - faded_[m]) / rate;
        base[by_log_time] = base[ahead] - base[time] * faded_[m];
        for (std::size_t i = 0; i < bases; ++i) {
            for (std::size_t j = 0; j <= i; ++j) {
                products_[m][pair(i, j)] = base[i] * base[j];
            }
        }
    }
}

std::array<TimeBases::Sums, 1> TimeBases::weighed(const Weights<1>& weights) const {
    return sums_of(weights, std::span<const Sums>{products_}.first(length_));
}

std::array<TimeBases::Sums, 2> TimeBases::weighed(const Weights<2>& weights) const {
    return sums_of(weights, std::span<const Sums>{products_}.first(length_));
}

std::array<TimeBases::AtOnce, 2> TimeBases::weighed_once(const Weights<2>& weights) const {
    return sums_of(weights, std::span<const AtOnce>{values_}.first(length_));
}

}  // namespace midspan
