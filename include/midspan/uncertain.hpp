// uncertain.hpp: a measured value and how sure it is, kept together.
//
// Room: ground. Pure.
#pragma once

namespace midspan {

/// A measured value with its standard uncertainty (k = 1, as in the GUM, JCGM 100), in the unit of the
/// value. What a person reads says plus or minus two of them.
template <class Quantity>
struct Uncertain {
    Quantity value;
    Quantity uncertainty;
};

}  // namespace midspan
