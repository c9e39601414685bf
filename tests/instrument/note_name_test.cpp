// note_name_test.cpp: names of notes and where they lie.
#include "midspan/instrument/note_name.hpp"

#include <doctest/doctest.h>

#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {
Hertz frequency_of(std::string_view name) { return NoteName::parse(name).value().frequency(440.0_hz); }
}  // namespace

TEST_SUITE("published") {
    // MIDI 1.0 numbering, f = 440 * 2^((m - 69) / 12); the digits are arithmetic.
    TEST_CASE("MIDI note numbers: the six open strings of a guitar, middle C and the 24th fret of E4") {
        CHECK(within(frequency_of("E2"), 82.406889_hz, 1e-6_hz));
        CHECK(within(frequency_of("A2"), 110.0_hz, 1e-6_hz));
        CHECK(within(frequency_of("D3"), 146.832384_hz, 1e-6_hz));
        CHECK(within(frequency_of("G3"), 195.997718_hz, 1e-6_hz));
        CHECK(within(frequency_of("B3"), 246.941651_hz, 1e-6_hz));
        CHECK(within(frequency_of("E4"), 329.627557_hz, 1e-6_hz));
        CHECK(within(frequency_of("C4"), 261.625565_hz, 1e-6_hz));
        CHECK(within(frequency_of("E6"), 1318.510228_hz, 1e-6_hz));
    }
    // MIDI 1.0: note 0 is C-1, 69 semitones below A4, 8.1758 Hz.
    TEST_CASE("MIDI note 0: C-1 lies 69 semitones below A4") {
        CHECK(NoteName::parse("C-1").value().semitones_from_a4() == -69);
        CHECK(within(frequency_of("C-1"), 8.1758_hz, 0.0001_hz));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("the next octave of the same name is twelve semitones up") {
        for (const std::string letter : {"A", "B", "C", "D", "E", "F", "G", "F#", "Bb", "C##", "Ebb"}) {
            for (int octave = 0; octave < 9; ++octave) {
                const auto low = NoteName::parse(letter + std::to_string(octave));
                const auto high = NoteName::parse(letter + std::to_string(octave + 1));
                CHECK(high.value().semitones_from_a4() - low.value().semitones_from_a4() == 12);
            }
        }
    }
    TEST_CASE("a name reads the same in either case, with either sign for a sharp, and with blanks around") {
        CHECK(NoteName::parse("f#3").value().text() == "F#3");
        CHECK(NoteName::parse("F♯3").value().text() == "F#3");
        CHECK(NoteName::parse("B♭1").value().text() == "Bb1");
        CHECK(NoteName::parse("bb1").value().text() == "Bb1");
        CHECK(NoteName::parse("b1").value().text() == "B1");
        CHECK(NoteName::parse(" E2 ").value().text() == "E2");
        CHECK(NoteName::parse("E2").value().text() == "E2");
    }
    TEST_CASE("a sharp of one letter is the flat of the next, also across the octave") {
        CHECK(NoteName::parse("C#4").value().semitones_from_a4() ==
              NoteName::parse("Db4").value().semitones_from_a4());
        CHECK(NoteName::parse("B#3").value().semitones_from_a4() ==
              NoteName::parse("C4").value().semitones_from_a4());
        CHECK(NoteName::parse("Cb4").value().semitones_from_a4() ==
              NoteName::parse("B3").value().semitones_from_a4());
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("what is no note is refused in one line that shows how to write one") {
        for (const std::string_view text : {"", "  ", "H2", "E", "2", "E22", "E-2", "E-0", "E2x", "E#b2",
                                            "E###2", "E 2", "EADGBE", "\x00", "♯2", "E2,A2", "e\xff"}) {
            const auto note = NoteName::parse(text);
            CAPTURE(text);
            REQUIRE(!note.ok());
            CHECK(note.error().fault == Fault::usage);
            CHECK(note.error().remedy.find("E2") != std::string::npos);
        }
        CHECK(NoteName::parse("H2").error().subject == "note 'H2'");
        CHECK(NoteName::parse("E").error().problem == "the octave is missing");
        CHECK(NoteName::parse("E\n2").error().subject == "note 'E?2'");
    }
}

}  // namespace midspan::test
