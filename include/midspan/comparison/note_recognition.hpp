// note_recognition.hpp: which string and which fret a note along the neck was plucked at.
//
// Room: comparison. Pure. May include: ground, instrument, pitch.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "midspan/comparison/neck_survey.hpp"
#include "midspan/comparison/pairing.hpp"
#include "midspan/instrument/instrument.hpp"
#include "midspan/warning.hpp"

namespace midspan {

/// What became of one HeardNote.
struct RecognisedNote {
    std::optional<int> string;     ///< nothing: belongs to no string, or to one of several; a warning says so
    std::optional<int> fret;       ///< 0 is the open string
    bool harmonic = false;         ///< touched over the 12th fret: a reference, no fretted note
    std::vector<NeckNote> either;  ///< where it could have been plucked, when that stays in doubt
};

struct Recognition {
    std::vector<RecognisedNote> notes;  ///< one a note
    std::vector<Warning> warnings;
};

/// Finds string and fret of every note.
///
/// - A note lies within 45 cents of a fret of the string it belongs to, once the whole instrument's distance
///   from its tuning has been taken off; one that fits nowhere is an unknown_note.
/// - Where two strings can make it, the order decides: strings are plucked one after the other, each
///   beginning with its open note or with its harmonic, their frets up the neck or in any order, and perhaps
///   open once more at the end; or there is no order, and then it says nothing. Which of these it was is
///   weighed by the whole recording. Every way to read it is weighed, as in a hidden Markov model, and so is
///   stiffness: B grows as 2^(n/6) along one string and differs from string to string. What is not nine times
///   as likely as all else stays undecided and is asked about by name, ambiguous_string; given_string settles
///   it beforehand.
/// - A note at the 12th fret with clear odd partials of the open string, where the string's other notes have
///   none, was touched and not pressed.
///
/// notes  in the order heard; given_string one of the instrument's
/// frets  the neck has, 1 to 36
///
/// Source: forward and backward probabilities of a hidden Markov model, from memory; how a neck is usually
/// plucked is common practice, no source.
[[nodiscard]] Recognition recognise_notes(std::span<const HeardNote> notes, const Instrument& instrument,
                                          int frets);

}  // namespace midspan
