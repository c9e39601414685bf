// cause_priors.cpp: one number for each kind of cause.
//
// Room: comparison. Pure.
#include "comparison/cause_priors.hpp"

namespace midspan {

CausePrior prior_of(const NamedCause& cause, bool several_strings) {
    const bool of_one = cause.string && several_strings;
    switch (cause.cause) {
        case NeckCause::saddle:
            return {1.5, 2.3};
        case NeckCause::nut_position:
            return {0.8, of_one ? 4.0 : 2.2};
        case NeckCause::nut_height:
            return {0.5, of_one ? 3.5 : 3.0};
        case NeckCause::fret:
            return {3.0, 4.0};
        case NeckCause::fret_on_string:
            return {3.0, 6.5};
        case NeckCause::string:
            break;
    }
    return {6.0, 5.0};
}

CausePrior prior_of_bent_pluck() { return {8.0, 4.5}; }

}  // namespace midspan
