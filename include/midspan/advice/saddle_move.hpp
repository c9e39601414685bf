// saddle_move.hpp: from an intonation error to the distance a saddle travels.
//
// Room: advice. Pure. May include: ground, instrument, comparison.
#pragma once

#include <span>
#include <string>
#include <string_view>

#include "midspan/instrument/bridge.hpp"
#include "midspan/uncertain.hpp"
#include "midspan/units.hpp"

namespace midspan {

struct SaddleMove {
    Millimetres toward_tail;  ///< negative: toward the nut
    Millimetres uncertainty;  ///< standard uncertainty, of the error and of the model
};

/// The move that makes the fretted octave agree with the 12th-fret harmonic once the open string has
/// been tuned back to pitch:
///
///     d = error L ln 2 / 1200
///
/// error         fretted minus harmonic, |error| <= 100 cents; positive = sharp
/// scale_length  nut to nominal saddle line, > 0
/// returns       d, positive toward the tail
///
/// How wrong it can be: over six steel strings the full model (stretch, stiffness, both lengths
/// changing) gives 0.3656 to 0.3741 mm per cent at 648 mm, this 0.3743: up to 2.3 % long. A standard
/// uncertainty of 1.2 % of the move is included for that.
///
/// Source: own derivation from frequency ~ 1/length with both lengths changing (Mersenne's law).
[[nodiscard]] SaddleMove saddle_move(Uncertain<Cents> error, Millimetres scale_length);

/// Turns of a screw for a move; positive in the sense that moves the saddle toward the tail.
[[nodiscard]] inline Turns turns(Millimetres toward_tail, Millimetres thread_pitch) {
    return Turns{toward_tail / thread_pitch};
}

/// Turns as a hand can do them, unsigned, to the nearest eighth: "2 1/4 turns", "1 turn", "1/8 turn";
/// less than a sixteenth is "a touch".
[[nodiscard]] std::string turns_in_words(Turns turns);

/// Whether a move fits into the travel that is left; nothing known counts as fitting.
[[nodiscard]] bool within_travel(Millimetres toward_tail, const Saddle& saddle);

/// What the trade does when a saddle cannot go far enough, the least intrusive first. Common practice, no
/// source.
[[nodiscard]] std::span<const std::string_view> when_travel_runs_out();

}  // namespace midspan
