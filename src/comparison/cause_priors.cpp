// cause_priors.cpp: one number for each kind of cause.
//
// Room: comparison. Pure.
#include "comparison/cause_priors.hpp"

#include <algorithm>
#include <cmath>

#include "comparison/square.hpp"

namespace midspan {

namespace {

/// A fret of so many: the more there are, the more rarely one of them may seem to be bad by chance, and a
/// normal distribution's tail falls as exp(-z^2 / 2).
double fret_stands_out(int fret, int of_frets) {
    constexpr int last_low = 3;
    constexpr int first_high = 12;
    constexpr int whole_neck = 19;
    constexpr int fewest = 5;
    const double of_whole_neck = fret <= last_low ? 3.8 : fret < first_high ? 3.6 : 3.4;
    return std::sqrt(square(of_whole_neck) +
                     2.0 * std::log(static_cast<double>(std::max(fewest, of_frets)) / whole_neck));
}

}  // namespace

CausePrior prior_of(const NamedCause& cause, const NeckExtent& plucked) {
    const bool of_one = cause.string && plucked.several_strings;
    switch (cause.cause) {
        case NeckCause::saddle:
            return {1.5, 3.0};
        case NeckCause::nut_position:
            return {0.8, of_one ? 3.5 : 2.85};
        case NeckCause::nut_height:
            return {0.5, of_one ? 3.15 : 3.8};
        case NeckCause::fret:
            return {3.0, fret_stands_out(*cause.fret, plucked.frets)};
        case NeckCause::fret_on_string:
            return {3.0, 4.1};
        case NeckCause::string:
            break;
    }
    return {6.0, 4.0};
}

CausePrior prior_of_bent_pluck() { return {8.0, 3.7}; }

}  // namespace midspan
