// pairing.hpp: which string a note belongs to, and which notes belong together.
//
// Room: comparison. Pure. May include: ground, instrument, pitch.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "midspan/instrument/instrument.hpp"
#include "midspan/pitch/pitch_reading.hpp"
#include "midspan/warning.hpp"

namespace midspan {

/// The order in which harmonics and fretted notes of one string are plucked.
enum class PluckOrder {
    alternate,  ///< harmonic, fretted, harmonic, fretted: drift and hand warmth cancel
    grouped,    ///< all harmonics of a string, then as many fretted notes
};

enum class NoteKind { open, harmonic, fretted };

/// A pluck that has been measured, in the order it was heard.
struct HeardNote {
    int recording;  ///< index
    Seconds start;
    std::optional<int> given_string;      ///< the user said which string this recording holds
    std::optional<PitchReading> reading;  ///< nothing: no pitch could be found
    bool usable;                          ///< false when a flaw makes it worthless for a comparison; it still
                                          ///< takes its place in the order
};

/// What became of one HeardNote.
struct NotePlace {
    std::optional<int> string;  ///< nothing: belongs to no string, or to two; a warning says so
    std::optional<NoteKind> kind;
};

struct StringNotes {
    int string;
    std::vector<std::size_t> open;       ///< indices into the notes
    std::vector<std::size_t> harmonics;  ///< in pairs with `fretted`, in the order heard
    std::vector<std::size_t> fretted;
    bool order_contradicted = false;
    bool ambiguous = false;  ///< notes that may be of this string or of another leave it in doubt
};

struct Pairing {
    std::vector<NotePlace> places;     ///< one a note
    std::vector<StringNotes> strings;  ///< one a string of the instrument, string 1 first
    std::vector<Warning> warnings;
};

/// Sorts notes to strings by pitch, tells open strings from octaves, and pairs each string's harmonics
/// with its fretted notes. Nothing is guessed in silence: what cannot be placed or paired has a warning.
///
/// - A note within 60 cents of a string's open note or its octave belongs there; farther off it still
///   belongs to the only string within reach (250 cents, and clearly nearest): that string is out of tune,
///   which whoever measures it has to say. More than 80 cents from the other notes of its string it was made
///   at a wrong fret: unknown_note.
/// - Where two strings could make it (an octave of one is the open note of another, unisons), the notes
///   around it and the odd partials of touched harmonics decide; where they do not, the note stays
///   unplaced, the strings it leaves in doubt are marked ambiguous, and a warning asks for --string.
/// - Notes without a reading were no notes and take no place in the order; notes that are not usable take
///   theirs, and their partner is unpaired. A harmonic left alone before another string's note, a note of
///   no string, or another recording finds its partner behind it only where odd partials or pitch say so.
///   Of an odd number of notes one is left over; where nothing but the count says that it is the last, none
///   is paired.
/// - The order says which of the octave notes are harmonics. A touched harmonic leaves weak odd partials
///   of the open string, a fretted note has none: where that contradicts the order, order_contradicted
///   is set, and likewise where the pitches step as if `alternate` had been plucked in groups. The order is
///   never silently reversed.
/// - With `alternate`, harmonics and fretted are of equal number, pair by pair. Where there is no pair, or
///   every note has the odd partials of a harmonic, all notes stand in the one list they sound like.
///
/// notes  in the order heard; given_string one of the instrument's
[[nodiscard]] Pairing pair_notes(std::span<const HeardNote> notes, const Instrument& instrument,
                                 PluckOrder order);

}  // namespace midspan
