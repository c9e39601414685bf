// string_choice.hpp: which string made each note, told from pitch, order and neighbours.
//
// Room: comparison, private. Pure. May include: ground, instrument, pitch.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "midspan/comparison/pairing.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// Open string, or an octave above it: by harmonic or fretted, pitch alone cannot tell.
enum class Register { open, octave };

struct StringChoice {
    int string;
    Register in;
    Cents off;                ///< from the nominal frequency of that string in that register
    bool clear;               ///< no other string tells a story nearly as simple
    std::vector<int> others;  ///< the strings it could also be, when not clear
};

/// A note within this of a string's note needs no further thought; beyond it the string is out of tune.
inline constexpr Cents in_tune_reach{60.0};

/// Farther than this from every note it belongs to no string.
inline constexpr Cents farthest_reach{250.0};

/// For every note the string it belongs to; nothing where there is no reading or no string in reach.
///
/// Where several strings could make a note, the simplest story of the whole session decides: strings are
/// visited one after the other, mostly the next one; an open string is plucked once, octaves in pairs; what
/// shows odd partials of the string below is no open string. Each departure costs a point or two, and the
/// cheapest story is found by dynamic programming (Viterbi). A choice is clear when every story with another
/// string at its place costs at least two points more.
[[nodiscard]] std::vector<std::optional<StringChoice>> choose_strings(std::span<const HeardNote> notes,
                                                                      const Instrument& instrument);

}  // namespace midspan
