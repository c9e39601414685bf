// note_name.cpp: from the name of a note to its semitone.
//
// Room: instrument. Pure.
#include "midspan/instrument/note_name.hpp"

#include <array>

#include "instrument/typed_text.hpp"

namespace midspan {
namespace {

// Semitones of A, B, C, D, E, F, G above the C that begins their octave.
constexpr std::array<int, 7> semitones_above_c{9, 11, 0, 2, 4, 5, 7};
constexpr int a4_above_c0 = 4 * 12 + 9;

/// Takes `sign` off the front of `text`, if it is there.
bool take(std::string_view& text, std::string_view sign) {
    if (!text.starts_with(sign)) return false;
    text.remove_prefix(sign.size());
    return true;
}

}  // namespace

Result<NoteName> NoteName::parse(std::string_view text) {
    const auto refuse = [text](std::string problem) {
        return Error{Fault::usage, "note " + quoted(text), std::move(problem),
                     "write a letter, # or b if it has one, and the octave: E2, F#3, Bb1 (A4 is 440 Hz)"};
    };
    std::string_view rest = trimmed(text);
    if (rest.empty()) return refuse("no note");

    const char letter = static_cast<char>(rest.front() >= 'a' ? rest.front() - 'a' + 'A' : rest.front());
    if (letter < 'A' || letter > 'G') return refuse("no such note");
    rest.remove_prefix(1);

    int sharps = 0;
    int flats = 0;
    constexpr int most = 2;  // a double sharp is the last that music knows
    while (take(rest, "#") || take(rest, "♯")) {
        ++sharps;
    }
    while (take(rest, "b") || take(rest, "♭")) {
        ++flats;
    }
    if (sharps > most || flats > most || (sharps > 0 && flats > 0)) return refuse("no such note");
    if (rest.empty()) return refuse("the octave is missing");

    const bool below_zero = take(rest, "-");
    if (rest.size() != 1 || rest.front() < '0' || rest.front() > '9') return refuse("no such note");
    const int octave = (below_zero ? -1 : 1) * (rest.front() - '0');
    if (octave < -1 || (below_zero && octave == 0)) return refuse("no such octave");

    std::string name{letter};
    name.append(static_cast<std::size_t>(sharps), '#').append(static_cast<std::size_t>(flats), 'b');
    name += std::to_string(octave);
    const int above_c = semitones_above_c[static_cast<std::size_t>(letter - 'A')] + sharps - flats;
    return NoteName{std::move(name), 12 * octave + above_c - a4_above_c0};
}

}  // namespace midspan
