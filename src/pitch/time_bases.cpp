// time_bases.cpp: the functions of time that the unknowns of a plucked string multiply.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/time_bases.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "ground/widest_registers.hpp"

namespace midspan {

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
        values_[m] = {1.0, t, 0.0, 0.0, 0.0};
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

TimeBases::Sums TimeBases::weighed(std::span<const double> weights) const {
    assert(weights.size() <= length_);
    return in_widest_registers([&] {
        std::array<FourDoubles, 4> fours{};
        for (std::size_t m = 0; m < weights.size(); ++m) {
            for (std::size_t i = 0; i < fours.size(); ++i) {
                FourDoubles products;
                load(products, &products_[m][4 * i]);
                fours[i] += weights[m] * products;
            }
        }
        Sums sums;
        for (std::size_t i = 0; i < fours.size(); ++i)
            store(fours[i], &sums[4 * i]);
        return sums;
    });
}

TimeBases::AtOnce TimeBases::weighed_once(std::span<const double> weights) const {
    AtOnce sums{};
    for (std::size_t m = 0; m < weights.size(); ++m) {
        for (std::size_t i = 0; i < bases; ++i) {
            sums[i] += weights[m] * values_[m][i];
        }
    }
    return sums;
}

}  // namespace midspan
