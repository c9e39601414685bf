// look.hpp: how a result is to look on the screen or paper it goes to.
//
// Room: view. Pure. May include: nothing.
#pragma once

namespace midspan {

enum class LengthUnit { millimetres, inches };

struct Look {
    LengthUnit unit = LengthUnit::millimetres;
    bool utf8 = false;      ///< the reader's terminal shows more than ASCII
    bool emphasis = false;  ///< it also shows bold; never the only sign of anything
};

}  // namespace midspan
