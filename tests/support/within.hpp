// within.hpp: closeness in the unit of the thing; fails on NaN.
//
// Room: tests/support.
#pragma once

#include <cmath>
#include <initializer_list>

#include "midspan/units.hpp"

namespace midspan::test {

template <class Unit>
[[nodiscard]] bool within(Quantity<Unit> value, Quantity<Unit> expected, Quantity<Unit> tolerance) {
    return std::abs(value.value() - expected.value()) <= tolerance.value();
}

}  // namespace midspan::test
