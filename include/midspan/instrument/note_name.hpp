// note_name.hpp: names of notes, and their frequencies in equal temperament.
//
// Room: instrument. Pure. May include: ground.
#pragma once

#include <string>
#include <string_view>

#include "midspan/result.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// A note such as E2 or F#3: a semitone of the equal-tempered scale, with the name it was given.
class NoteName {
public:
    /// `text` is a letter A to G (either case), up to two sharps (# or ♯) or flats (b or ♭), and an octave
    /// from -1 to 9, where C4 is middle C and A4 the standard tuning frequency: "E2", "F#3", "Bb1".
    /// Blanks around it do not matter. Anything else is a Fault::usage.
    [[nodiscard]] static Result<NoteName> parse(std::string_view text);

    /// The name as it was given, the letter upper-case, sharps and flats as # and b.
    [[nodiscard]] const std::string& text() const { return text_; }

    /// Semitones above A4; negative below.
    [[nodiscard]] int semitones_from_a4() const { return semitones_from_a4_; }

    /// The frequency in equal temperament with A4 at `a4`.
    [[nodiscard]] Hertz frequency(Hertz a4) const { return raised(a4, Cents{100.0 * semitones_from_a4_}); }

private:
    NoteName(std::string text, int semitones) : text_{std::move(text)}, semitones_from_a4_{semitones} {}
    std::string text_;
    int semitones_from_a4_;
};

}  // namespace midspan
