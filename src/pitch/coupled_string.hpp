// coupled_string.hpp: a plucked string whose two planes of vibration drive each other.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <cstddef>
#include <span>

#include "midspan/units.hpp"
#include "pitch/left_over.hpp"
#include "pitch/string_law.hpp"

namespace midspan {

/// One partial of it, as heard.
struct CoupledPartial {
    std::size_t track = 0;   ///< index into the tracks
    std::size_t length = 0;  ///< values that are looked at
    int number = 1;
    std::array<std::complex<double>, 2> gain{};  ///< of either plane on its way to the microphone
    double first_decay = 0.0;                    ///< 1/s
    double second_decay = 0.0;                   ///< 1/s
    double offset = 0.0;                         ///< ln f_k above the law
    double self = 0.0;      ///< what its own swing adds to its frequency at the pluck, relative
    double usual = 1.0;     ///< amplitude at the pluck that a single plane would have
    double power = 0.0;     ///< sum of the squares of its values
    double variance = 1.0;  ///< of one complex value about the model
    double squares = 0.0;   ///< sum of what is left over, squared

    /// What may be left over on average: single precision on the way here.
    [[nodiscard]] double least() const { return 1e-12 * power / static_cast<double>(length); }
    /// Its share of minus twice the logarithm of the likelihood, where `overlap` is the tracks'.
    [[nodiscard]] double misfit(double overlap) const { return misfit_of(squares, length, least(), overlap); }
};

/// A plucked string from its motion: all partials start in one direction, `angle` from the first plane, and
/// go on as CoupledPlanes say. What partial 1 swings by stretches the string and raises all partials by
/// `stretch` at the pluck; higher ones add `share` times a kth of a kth of that; each dies as they do.
struct CoupledString {
    /// The lowest partials tell all that this model can.
    static constexpr std::size_t most_partials = 6;
    /// What a partial's swing stretches the string by, at the pluck and against partial 1's.
    static constexpr double share_of(int number) { return 1.0 / (static_cast<double>(number) * number); }

    StringLaw law;  ///< ln f_1, B and the split
    double angle = 0.0;
    double phase = 0.0;
    double stretch = 0.0;
    double share = 1.0;
    std::array<CoupledPartial, most_partials> places{};
    std::size_t count = 0;
    double deviation = 0.0;  ///< standard uncertainty of ln f_1, from the scatter about the model
    double misfit = 0.0;     ///< as FoundString's, of these partials
    double damping = 1e-3;   ///< relative, of the next step of the fit towards it

    /// What is explained of the partials against what is left over.
    [[nodiscard]] Decibels explained() const {
        double power = 0.0, left = 0.0;
        for (const CoupledPartial& partial : partials()) {
            power += partial.power;
            left += partial.squares;
        }
        return Decibels{10.0 * std::log10(std::max(power - left, 1e-30) / std::max(left, 1e-30))};
    }

    /// ln f
    [[nodiscard]] double furthest_off_the_law() const {
        double furthest = 0.0;
        for (const CoupledPartial& partial : partials())
            furthest = std::max(furthest, std::abs(partial.offset));
        return furthest;
    }

    [[nodiscard]] std::span<CoupledPartial> partials() { return std::span{places}.first(count); }
    [[nodiscard]] std::span<const CoupledPartial> partials() const { return std::span{places}.first(count); }
};

}  // namespace midspan
