// note_recognition_test.cpp: which string and fret a note came from, and when that has to be asked.
//
// Room: tests.
#include "midspan/comparison/note_recognition.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <cstdint>
#include <utility>

#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

using namespace literals;

Instrument guitar() {
    const Millimetres length{648.0};
    return make_instrument(standard_tuning, {&length, 1}, Hertz{440.0}, {}).value();
}

/// Notes as they are heard, a second apart, `off` cents from where they should be.
std::vector<HeardNote> heard(const std::vector<NeckNote>& played, Cents off = Cents{0.0},
                             std::optional<int> given = {}, bool stiffness = true) {
    const Instrument instrument = guitar();
    std::vector<HeardNote> notes;
    for (const NeckNote& note : played) {
        PitchReading reading;
        reading.frequency =
            raised(instrument.string(note.string).open_frequency, Cents{100.0 * note.fret} + off);
        reading.uncertainty = Cents{0.05};
        if (stiffness) {
            reading.inharmonicity = 2e-5 * note.string * std::exp2(note.fret / 6.0);
            reading.inharmonicity_uncertainty = 0.02 * reading.inharmonicity;
        }
        reading.odd_partials = Decibels{-80.0};
        reading.odd_partials_floor = Decibels{-80.0};
        notes.push_back({0, Seconds{static_cast<double>(notes.size())}, given, reading, true});
    }
    return notes;
}

std::vector<NeckNote> run(const std::vector<int>& strings, const std::vector<int>& frets) {
    std::vector<NeckNote> played;
    for (const int string : strings) {
        for (const int fret : frets)
            played.push_back({string, fret});
    }
    return played;
}

template <class Thing>
std::vector<Thing> in_any_order(std::vector<Thing> things, std::uint64_t seed) {
    RandomNumbers random{seed};
    for (std::size_t i = things.size(); i > 1; --i)
        std::swap(things[i - 1], things[static_cast<std::size_t>(random.uniform() * static_cast<double>(i))]);
    return things;
}

int misplaced(const std::vector<NeckNote>& played, const Recognition& recognition) {
    int wrong = 0;
    for (std::size_t i = 0; i < played.size(); ++i) {
        const RecognisedNote& note = recognition.notes[i];
        if (note.string && NeckNote{*note.string, *note.fret} != played[i]) ++wrong;
    }
    return wrong;
}

void check_all_found(const std::vector<NeckNote>& played, const Recognition& recognition) {
    REQUIRE(recognition.notes.size() == played.size());
    for (std::size_t i = 0; i < played.size(); ++i) {
        CAPTURE(i);
        CHECK(recognition.notes[i].string == played[i].string);
        CHECK(recognition.notes[i].fret == played[i].fret);
    }
    CHECK(recognition.warnings.empty());
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("string by string from the open note up, and open once more, every note finds its place") {
        const std::vector<std::vector<int>> ways{{0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15},
                                                 {0, 1, 3, 5, 7, 12},
                                                 {0, 1, 2, 3, 5, 7, 9, 12, 15, 17, 19},
                                                 {0, 1, 2, 3, 5, 7, 9, 12, 15, 17, 19, 0},
                                                 {0, 1, 2, 3, 5, 7, 9, 12, 15, 0},
                                                 {0, 0, 0, 3, 3, 3, 7, 7, 7, 12, 12, 12}};
        for (const auto& frets : ways) {
            for (const bool stiffness : {true, false}) {
                for (const Cents off : {Cents{0.0}, Cents{-23.0}}) {
                    for (const auto& strings :
                         {std::vector{6, 5, 4, 3, 2, 1}, std::vector{1, 2, 3, 4, 5, 6}}) {
                        const auto played = run(strings, frets);
                        const Recognition recognition =
                            recognise_notes(heard(played, off, {}, stiffness), guitar(), 22);
                        // The order alone leaves some in doubt where few frets were plucked, but none wrong.
                        if (stiffness || frets.size() == 11) check_all_found(played, recognition);
                        CHECK(misplaced(played, recognition) == 0);
                    }
                }
            }
        }
    }

    TEST_CASE(
        "string by string, each open first and then its frets in any order: stiffness finds their places") {
        for (std::uint64_t seed = 1; seed <= 20; ++seed) {
            CAPTURE(seed);
            std::vector<NeckNote> played;
            for (const int string : {6, 5, 4, 3, 2, 1}) {
                played.push_back({string, 0});
                for (const int fret : in_any_order(std::vector{1, 2, 3, 5, 7, 9, 12, 15},
                                                   10 * seed + static_cast<std::uint64_t>(string)))
                    played.push_back({string, fret});
            }
            check_all_found(played, recognise_notes(heard(played), guitar(), 22));
            CHECK(misplaced(played, recognise_notes(heard(played, Cents{0.0}, {}, false), guitar(), 22)) ==
                  0);
        }
    }
    TEST_CASE("all over the neck in no order, notes may stay in doubt, but none is put where it was not") {
        for (std::uint64_t seed = 1; seed <= 20; ++seed) {
            CAPTURE(seed);
            const auto played = in_any_order(run({6, 5, 4, 3, 2, 1}, {0, 1, 2, 3, 5, 7, 9, 12, 15}), seed);
            for (const bool stiffness : {true, false}) {
                const Recognition recognition =
                    recognise_notes(heard(played, Cents{0.0}, {}, stiffness), guitar(), 22);
                CHECK(misplaced(played, recognition) == 0);
            }
        }
    }
    TEST_CASE("strings that begin with a touched harmonic are not taken for open ones of the next") {
        // B of strings 3 and 4 so that it cannot tell them apart: a fourth up, as 2^(5/6).
        const auto played = run({6, 5, 4, 3, 2, 1}, {12, 1, 2, 3, 5, 7, 9, 12, 15});
        auto notes = heard(played);
        for (std::size_t i = 0; i < notes.size(); ++i) {
            PitchReading& reading = *notes[i].reading;
            if (i % 9 == 0) reading.odd_partials = Decibels{-30.0};
            if (played[i].string == 3)
                reading.inharmonicity = 2e-5 * 4 * std::exp2((played[i].fret + 5) / 6.0);
        }
        check_all_found(played, recognise_notes(notes, guitar(), 22));
    }

    TEST_CASE("a string that the user names needs no order") {
        const std::vector<NeckNote> played{{5, 12}, {5, 0}, {5, 7}, {5, 3}, {5, 7}, {5, 19}};
        check_all_found(played, recognise_notes(heard(played, Cents{4.0}, 5), guitar(), 22));
    }

    TEST_CASE("a touched note at the 12th fret is told from a pressed one by its odd partials") {
        const std::vector<NeckNote> played{{4, 0}, {4, 12}, {4, 12}, {4, 7}};
        auto notes = heard(played);
        notes[1].reading->odd_partials = Decibels{-30.0};
        const Recognition recognition = recognise_notes(notes, guitar(), 22);
        CHECK(recognition.notes[1].harmonic);
        CHECK_FALSE(recognition.notes[2].harmonic);
        CHECK_FALSE(recognition.notes[3].harmonic);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("what could be two strings is asked about by name and never guessed") {
        // B2, C#3, E3: strings 5, 5, 4 at frets 2, 4, 2, or string 6 at 7, 9, 12, without any open note.
        const std::vector<NeckNote> played{{5, 2}, {5, 4}, {4, 2}};
        const Recognition recognition = recognise_notes(heard(played, Cents{0.0}, {}, false), guitar(), 22);
        CHECK(misplaced(played, recognition) == 0);
        REQUIRE_FALSE(recognition.warnings.empty());
        CHECK(recognition.warnings[0].code == WarningCode::ambiguous_string);
        CHECK(recognition.warnings[0].message.find("string 6 at fret") != std::string::npos);
        CHECK(recognition.warnings[0].message.find("--string") != std::string::npos);
    }

    TEST_CASE("many notes in doubt are one question, which names them all") {
        const std::vector<NeckNote> played{{5, 2}, {5, 4}, {5, 2}, {4, 2}, {4, 4}};
        const Recognition recognition = recognise_notes(heard(played, Cents{0.0}, {}, false), guitar(), 22);
        REQUIRE(recognition.warnings.size() == 1);
        CAPTURE(recognition.warnings[0].message);
        for (const char* note : {"B2", "C#3", "E3", "F#3"})
            CHECK(recognition.warnings[0].message.find(note) != std::string::npos);
        CHECK(recognition.warnings[0].message.find("frets") != std::string::npos);
    }

    TEST_CASE("a note between the frets or beyond the neck belongs nowhere, and is told of") {
        auto notes = heard({{6, 0}, {6, 1}, {6, 2}, {6, 3}, {1, 22}});
        notes[2].reading->frequency = raised(notes[2].reading->frequency, Cents{50.0});
        notes[4].reading->frequency = raised(notes[4].reading->frequency, Cents{300.0});
        const Recognition recognition = recognise_notes(notes, guitar(), 22);
        CHECK_FALSE(recognition.notes[2].string);
        CHECK_FALSE(recognition.notes[4].string);
        CHECK(recognition.warnings.size() == 2);
        CHECK(recognition.warnings[0].code == WarningCode::unknown_note);
        CHECK(recognition.notes[3].fret == 3);
    }

    TEST_CASE("no notes, and notes without a pitch, are no trouble") {
        CHECK(recognise_notes({}, guitar(), 22).notes.empty());
        std::vector<HeardNote> notes{{0, Seconds{0.0}, {}, {}, true}};
        const Recognition recognition = recognise_notes(notes, guitar(), 22);
        CHECK_FALSE(recognition.notes[0].string);
        CHECK(recognition.warnings.empty());
    }
}

}  // namespace midspan::test
