// move_words.hpp: which way a saddle goes and how its screw is turned, in words.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>

#include "midspan/advice/saddle_move.hpp"
#include "midspan/instrument/bridge.hpp"

namespace midspan {

/// "toward the tail" or "toward the nut".
[[nodiscard]] std::string direction_in_words(Millimetres toward_tail);

/// "2 1/4 turns clockwise"; without the sense where the bridge's is not known.
[[nodiscard]] std::string screw_in_words(Turns turns, const Saddle& saddle);

}  // namespace midspan
