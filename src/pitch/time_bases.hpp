// time_bases.hpp: the functions of time that the unknowns of a plucked string multiply.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <array>
#include <cstddef>
#include <span>
#include <vector>

#include "pitch/partial_tracks.hpp"

namespace midspan {

/// Every unknown of the string's model turns or swells a partial by a constant times one of five functions
/// of time. They are the same for all partials, and so are their products in pairs, which is all that the
/// normal equations need.
///
/// Allocates when it is made, never afterwards.
class TimeBases {
public:
    enum Base : std::size_t {
        one,
        time,         ///< t
        ahead,        ///< seconds that a unit of glide runs ahead: (T / 2) (1 - exp(-2 t / T))
        by_log_time,  ///< d ahead / d ln T
        fast_ahead,   ///< as `ahead`, for the glide that the higher partials drive
    };
    static constexpr std::size_t bases = 5;
    /// Sums over the products of two bases, in the order of `pair`; one place is spare.
    using Sums = std::array<double, 16>;
    /// All bases at once; the places behind them are spare.
    using AtOnce = std::array<double, 8>;

    [[nodiscard]] static constexpr std::size_t pair(std::size_t i, std::size_t j) {
        return i < j ? j * (j + 1) / 2 + i : i * (i + 1) / 2 + j;
    }

    TimeBases();

    /// For the first `length` values of the tracks.
    void lay_out(const PartialTracks& tracks, std::size_t length);

    /// The glide that the higher partials drive: each at the decay and with the weight that it is given.
    struct Driver {
        double weight;
        double decay;  ///< 1/s
    };
    void drive_fast_glide(std::span<const Driver> drivers);

    /// Renews what depends on the glide time T.
    void set_log_glide_time(double log_glide_time);

    [[nodiscard]] std::size_t length() const { return length_; }
    /// Bases at value m.
    [[nodiscard]] const AtOnce& at(std::size_t m) const { return values_[m]; }
    /// exp(-2 t / T) at value m.
    [[nodiscard]] double faded(std::size_t m) const { return faded_[m]; }
    /// What the law taken out of the tracks has turned, in periods of its centre, at value m.
    [[nodiscard]] double taken_out(std::size_t m) const { return taken_out_[m]; }

    /// For each row of weights, one a value from the first on, the sums of weight times each product of two
    /// bases.
    template <std::size_t Rows>
    using Weights = std::array<std::span<const double>, Rows>;
    [[nodiscard]] std::array<Sums, 1> weighed(const Weights<1>& weights) const;
    [[nodiscard]] std::array<Sums, 2> weighed(const Weights<2>& weights) const;
    /// The same of weight times each base.
    [[nodiscard]] std::array<AtOnce, 2> weighed_once(const Weights<2>& weights) const;

private:
    std::size_t length_ = 0;
    std::vector<AtOnce> values_;
    std::vector<Sums> products_;
    std::vector<double> faded_;
    std::vector<double> taken_out_;
};

}  // namespace midspan
