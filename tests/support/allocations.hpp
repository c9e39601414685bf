// allocations.hpp: how often memory has been asked for.
//
// Room: tests/support. May include: nothing.
#pragma once

#include <cstddef>

namespace midspan::test {

/// By this thread, with new, in whatever program asks for this.
[[nodiscard]] std::size_t allocations_so_far();

}  // namespace midspan::test
