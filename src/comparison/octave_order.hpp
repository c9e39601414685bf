// octave_order.hpp: which octave notes of one string are harmonics, and which pairs they make.
//
// Room: comparison, private. Pure. May include: ground, instrument, pitch.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "midspan/comparison/pairing.hpp"

namespace midspan {

/// What came between two octave notes of a string.
enum class Interruption {
    none,     ///< nothing, or an open note of the same string
    no_note,  ///< something without a pitch: a dead note, a thump
    other,    ///< another string, a note of no string, another recording
};

struct OctaveNote {
    std::size_t note;     ///< index into the heard notes
    Interruption before;  ///< since the octave note of this string before
};

enum class Unpaired {
    left_over,         ///< there is no partner
    partner_unusable,  ///< there is one, but its flaws make it worthless
    count_unclear,     ///< one of an odd number is missing, and nothing tells which
    order_unknown,     ///< after an interruption nothing tells which kind it is
};

/// The octave notes of one string, told apart.
struct OctaveOrder {
    std::vector<std::optional<NoteKind>> kinds;  ///< one an octave note
    std::vector<std::size_t> harmonics;          ///< indices into the heard notes, all usable
    std::vector<std::size_t> fretted;
    struct Leftover {
        std::size_t note;
        Unpaired why;
    };
    std::vector<Leftover> leftovers;
    bool leftover_contradicts = false;  ///< odd partials say that the note left over is not the odd one
    bool pitch_contradicts = false;     ///< the pitches step as in another order than the given one
};

/// Tells the octave notes of one string apart by the order they were plucked in.
///
/// Alternate: they pair off two by two, harmonic first. A harmonic without partner before an interruption
/// is the hard case: the next note is its fretted partner, or a new beginning. What odd partials and pitch
/// say decides. Where they say nothing: behind a dead note the order goes on if that uses up all notes, else
/// it begins anew; behind anything else it begins anew if that uses up all notes, else nothing is paired
/// until the next interruption. A harmonic at the very end is left over; where no interruption lies between
/// it and the pairs before, they stand only if odd partials agree: had the first note been missed, all of
/// them would be reversed.
///
/// Grouped: the first half of a visit are harmonics, the second half fretted notes, and the middle one of an
/// odd number is left out. Visits are split one by one, or all notes at once, whichever the sound fits.
[[nodiscard]] OctaveOrder order_octaves(std::span<const HeardNote> notes, std::span<const OctaveNote> octaves,
                                        PluckOrder order);

}  // namespace midspan
