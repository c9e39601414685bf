// exit_code.hpp: how the program ends.
//
// Room: program. Edge: the screen. May include: everything.
#pragma once

#include "midspan/result.hpp"

namespace midspan::program {

inline constexpr int measured = 0;
inline constexpr int interrupted = 130;  ///< Ctrl-C, as shells count it

/// One exit code for each kind of fault.
[[nodiscard]] constexpr int exit_code(Fault fault) {
    switch (fault) {
        case Fault::usage:
            return 2;
        case Fault::input:
            return 3;
        case Fault::device:
            return 4;
        case Fault::record:
            return 5;
    }
    return 2;
}

}  // namespace midspan::program
