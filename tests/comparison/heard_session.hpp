// heard_session.hpp: a session at the bench, written in a line.
//
// Room: tests/comparison.
#pragma once

#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>
#include <string>
#include <string_view>
#include <vector>

#include "midspan/comparison/pairing.hpp"

namespace midspan::test {

/// A reading of a steady string; a touched harmonic when `touched`, else without any odd partials.
inline PitchReading reading_of(Hertz frequency, Cents uncertainty, bool touched) {
    return {.frequency = frequency,
            .uncertainty = uncertainty,
            .inharmonicity = 2e-4,
            .inharmonicity_uncertainty = 1e-6,
            .glide = Cents{1.0},
            .glide_time = Seconds{1.0},
            .partials = 8,
            .span = Seconds{2.0},
            .signal_to_noise = Decibels{45.0},
            .odd_partials = Decibels{touched ? -32.0 : -76.0},
            .odd_partials_floor = Decibels{-74.0},
            .not_settled = false,
            .beating = false,
            .string_suspect = false};
}

inline Instrument instrument_tuned(std::string_view tuning) {
    const std::vector<Millimetres> length{Millimetres{648.0}};
    return make_instrument(tuning, length, Hertz{440.0}, Saddle{}).value();
}

/// How the notes of a session sound.
struct Sound {
    bool odd_partials = true;  ///< touched harmonics have them
    Cents error{8.0};          ///< of every fretted note
    Cents off{0.0};            ///< the whole instrument
};

/// Notes one second apart from words such as "6o 6H 6F 5H 5F! x ? | 6H":
///
///     6o, 6H, 6F  string 6 open, its 12th-fret harmonic, its 12th fret; 6s is its 13th fret
///     !           behind it: not usable
///     x           a dead note
///     ?           a clear note of no string: 37 cents above the A at 1,760 Hz
///     |           another recording begins; |6 one that holds string 6
inline std::vector<HeardNote> heard(const Instrument& instrument, std::string_view words, Sound sound = {}) {
    std::vector<HeardNote> notes;
    std::istringstream stream{std::string{words}};
    int recording = 0;
    std::optional<int> given;
    for (std::string word; stream >> word;) {
        if (word.front() == '|') {
            recording += notes.empty() ? 0 : 1;
            given.reset();
            if (word.size() > 1) given = std::stoi(word.substr(1));
            continue;
        }
        HeardNote note{recording, Seconds{static_cast<double>(notes.size())}, given, std::nullopt, true};
        const Cents fit{0.02};
        if (word == "?") {
            note.reading = reading_of(raised(Hertz{1760.0}, Cents{37.0}), fit, false);
        } else if (word != "x") {
            std::size_t digits = 0;
            const int string = std::stoi(word, &digits);
            const char kind = word[digits];
            const double octave = kind == 'o' ? 1.0 : 2.0;
            const Cents off = sound.off + (kind == 'F'   ? sound.error
                                           : kind == 's' ? sound.error + Cents{100.0}
                                                         : Cents{0.0});
            note.reading = reading_of(raised(octave * instrument.string(string).open_frequency, off), fit,
                                      kind == 'H' && sound.odd_partials);
            note.usable = word.back() != '!';
        } else {
            note.usable = false;
        }
        notes.push_back(note);
    }
    return notes;
}

/// What became of the notes, in the words of heard(): "6o 6H 6F -"; "6" alone is a note whose kind is
/// unknown.
inline std::string places(const Pairing& pairing) {
    std::string words;
    for (const NotePlace& place : pairing.places) {
        if (!words.empty()) words += ' ';
        if (!place.string) {
            words += '-';
            continue;
        }
        words += std::to_string(*place.string);
        if (!place.kind) continue;
        words += *place.kind == NoteKind::open ? 'o' : *place.kind == NoteKind::harmonic ? 'H' : 'F';
    }
    return words;
}

/// The pairs of one string by the numbers of their notes: "0-1 2-3".
inline std::string pairs(const Pairing& pairing, int string) {
    const StringNotes& notes = pairing.strings[static_cast<std::size_t>(string - 1)];
    REQUIRE(notes.harmonics.size() == notes.fretted.size());
    std::string words;
    for (std::size_t i = 0; i < notes.harmonics.size(); ++i) {
        if (!words.empty()) words += ' ';
        words += std::to_string(notes.harmonics[i]) + "-" + std::to_string(notes.fretted[i]);
    }
    return words;
}

inline std::ptrdiff_t warned(const Pairing& pairing, WarningCode code) {
    return std::count_if(pairing.warnings.begin(), pairing.warnings.end(),
                         [code](const Warning& warning) { return warning.code == code; });
}

inline const StringNotes& string_notes(const Pairing& pairing, int string) {
    return pairing.strings[static_cast<std::size_t>(string - 1)];
}

}  // namespace midspan::test
