// recorded_neck.hpp: strings and heights of the instrument on the bench, asked from its record.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include "midspan/advice/neck_expectation.hpp"
#include "midspan/result.hpp"
#include "program/reading_log.hpp"

namespace midspan::program {

/// What the record has of the last two visits: what the open one does not say, the one before may. Nothing is
/// stated of an instrument that is not in the record.
[[nodiscard]] Result<StatedNeck> recorded_neck(OnBench& bench);

}  // namespace midspan::program
