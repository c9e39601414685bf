// cause_priors.cpp: one number for each kind of cause.
//
// Room: comparison. Pure.
#include "comparison/cause_priors.hpp"

namespace midspan {

namespace {

double fret_stands_out(int fret) {
    constexpr int last_low = 3;
    constexpr int first_high = 12;
    return fret <= last_low ? 3.7 : fret < first_high ? 3.5 : 3.4;
}

}  // namespace

CausePrior prior_of(const NamedCause& cause, bool several_strings) {
    const bool of_one = cause.string && several_strings;
    switch (cause.cause) {
        case NeckCause::saddle:
            return {1.5, 3.0};
        case NeckCause::nut_position:
            return {0.8, of_one ? 3.6 : 2.9};
        case NeckCause::nut_height:
            return {0.5, of_one ? 3.4 : 3.8};
        case NeckCause::fret:
            return {3.0, fret_stands_out(*cause.fret)};
        case NeckCause::fret_on_string:
            return {3.0, 4.1};
        case NeckCause::string:
            break;
    }
    return {6.0, 4.0};
}

CausePrior prior_of_bent_pluck() { return {8.0, 3.7}; }

}  // namespace midspan
