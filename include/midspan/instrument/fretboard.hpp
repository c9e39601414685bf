// fretboard.hpp: where the frets are.
//
// Room: instrument. Pure. May include: ground.
#pragma once

#include <cassert>
#include <cmath>

#include "midspan/units.hpp"

namespace midspan {

/// How far a fret is from the nut in equal temperament:
///
///     x_n = L (1 - 2^(-n/12))
///
/// fret          n, 0 is the nut, 0 to 36
/// scale_length  L, nut to nominal saddle line, > 0
///
/// The nominal place: what stretch and stiffness ask of nut and saddle is not in it.
///
/// Source: equal temperament and frequency ~ 1/length (Mersenne's law). The trade's divisor 17.817 is
/// 1 / (1 - 2^(-1/12)).
[[nodiscard]] inline Millimetres fret_position(int fret, Millimetres scale_length) {
    assert(fret >= 0 && fret <= 36 && scale_length.value() > 0.0);
    return (1.0 - std::exp2(-fret / 12.0)) * scale_length;
}

}  // namespace midspan
