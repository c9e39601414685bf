// bridge.hpp: the saddle of one string, its screw and the way it has left to go.
//
// Room: instrument. Pure. May include: ground.
#pragma once

#include <optional>
#include <string_view>

#include "midspan/result.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// One saddle, as far as it is known. What is not known is left out, never guessed.
struct Saddle {
    std::optional<Millimetres> thread_pitch;       ///< travel per turn of its screw
    std::optional<bool> clockwise_is_toward_tail;  ///< which way the screw works on this bridge
    std::optional<Millimetres> travel_toward_nut;  ///< free way left on either side
    std::optional<Millimetres> travel_toward_tail;
};

/// What a saddle screw can have; outside of it a number is a slip of the pen.
inline constexpr Millimetres finest_thread_pitch{0.1};
inline constexpr Millimetres coarsest_thread_pitch{2.0};

/// More free way than this no bridge has.
inline constexpr Millimetres longest_travel{50.0};

/// The pitch of a screw thread: by name (M2, M2.5, M3, M4, 4-40, 5-40, 6-32, 8-32, 10-32, with or
/// without '#') or as a length of 0.1 to 2 mm (0.5, 0.5mm, 0.02in). Anything else is a Fault::usage.
///
/// Sources: ISO 261 / ISO 724 coarse pitches for M; ASME B1.1 for numbered screws (secondary tables).
[[nodiscard]] Result<Millimetres> parse_thread_pitch(std::string_view text);

}  // namespace midspan
