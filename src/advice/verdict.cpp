// verdict.cpp: good enough, move, or measure again.
//
// Room: advice. Pure. May include: ground.
#include "midspan/advice/verdict.hpp"

#include <cassert>

namespace midspan {

std::string_view verdict_name(Verdict verdict) {
    switch (verdict) {
        case Verdict::in_tolerance:
            return "in_tolerance";
        case Verdict::move:
            return "move";
        case Verdict::measure_again:
            return "measure_again";
    }
    assert(false);
    return {};
}

Verdict decide(Uncertain<Cents> error, Cents tolerance) {
    const Cents size = magnitude(error.value);
    const Cents guard = 2.0 * error.uncertainty;
    if (size + guard <= tolerance) return Verdict::in_tolerance;
    if (size - guard > tolerance) return Verdict::move;
    return Verdict::measure_again;
}

}  // namespace midspan
