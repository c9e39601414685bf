// clock.hpp: now, as the setup record writes it.
//
// Room: program. Edge: the clock. May include: everything.
#pragma once

#include "midspan/record/setup_record.hpp"

namespace midspan::program {

[[nodiscard]] Moment now();

/// The day where the bench stands.
[[nodiscard]] Day today();

}  // namespace midspan::program
