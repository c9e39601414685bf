// stated_neck.hpp: strings and heights of an instrument, as its record has them.
//
// Room: record. Pure. May include: ground to measurement.
#pragma once

#include <span>

#include "midspan/advice/neck_expectation.hpp"
#include "midspan/record/setup_record.hpp"

namespace midspan {

/// What is known of a neck before it is plucked.
///
/// gauges      those fitted now. A string of 0.6 mm (.024 in) or more whose winding nobody stated counts as
///             not known, a thinner one as plain
/// heights     the last measured in the newest of `visits` that has any: action over fret 12 with no capo and
///             nothing held; nut height at the nut, or over fret 1 with the string free or held at a fret
///             beyond it, from which the height at the nut follows by proportion; relief by any method.
///             Measured at some strings alone, the others lie on the straight line between them, and those
///             beyond the last are as high as it
///
/// visits  in their order, those that may be asked
[[nodiscard]] StatedNeck stated_neck(const InstrumentEntry& entry, std::span<const Visit> visits);

}  // namespace midspan
