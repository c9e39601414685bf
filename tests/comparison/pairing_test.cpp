// pairing_test.cpp: which note belongs to which string, and to which other note.
#include "midspan/comparison/pairing.hpp"

#include <doctest/doctest.h>

#include <initializer_list>

#include "comparison/heard_session.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

const Sound silent{.odd_partials = false};  // harmonics touched so well that they leave nothing

Pairing paired(std::string_view tuning, std::string_view words, Sound sound = {},
               PluckOrder order = PluckOrder::alternate) {
    const Instrument instrument = instrument_tuned(tuning);
    return pair_notes(heard(instrument, words, sound), instrument, order);
}

Pairing guitar(std::string_view words, Sound sound = {}, PluckOrder order = PluckOrder::alternate) {
    return paired(standard_tuning, words, sound, order);
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("six strings in standard tuning are told apart in any order, with or without odd partials") {
        for (const Sound& sound : {Sound{}, silent}) {
            for (const std::string_view words :
                 {"6H 6F 6H 6F 5H 5F 5H 5F 4H 4F 3H 3F 2H 2F 1H 1F", "1H 1F 3H 3F 2H 2F 6H 6F 5H 5F 4H 4F",
                  "6o 5o 4o 3o 2o 1o 6o 6H 6F 6H 6F 6o 1o 1H 1F"}) {
                const Pairing pairing = guitar(words, sound);
                CHECK(places(pairing) == words);
                CHECK(pairing.warnings.empty());
            }
        }
    }
    TEST_CASE("pairs follow the order heard and never cross to another string") {
        const Pairing pairing = guitar("6H 6F 6H 6F 5H 5F 6H 6F");
        CHECK(pairs(pairing, 6) == "0-1 2-3 6-7");
        CHECK(pairs(pairing, 5) == "4-5");
        CHECK(pairs(pairing, 1).empty());
    }
    TEST_CASE("an instrument with one string, and a ukulele whose fourth string is higher than its third") {
        CHECK(pairs(paired("D3", "1o 1H 1F 1H 1F"), 1) == "1-2 3-4");
        const std::string_view words = "4H 4F 3H 3F 2H 2F 1H 1F";
        CHECK(places(paired("G4,C4,E4,A4", words)) == words);
    }
    TEST_CASE("an odd harmonic at the end is left over and said") {
        const Pairing pairing = guitar("6H 6F 6H 6F 6H");
        CHECK(pairs(pairing, 6) == "0-1 2-3");
        CHECK(warned(pairing, WarningCode::unpaired) == 1);
        CHECK(pairing.warnings.front().at == Seconds{4.0});
        CHECK(pairing.warnings.front().string == 6);
    }
    TEST_CASE("an odd number without odd partials may lack its first note as well as its last: no pairs") {
        for (const std::string_view words : {"6H 6F 6H", "6F 6H 6F 6H 6F", "6H 6H 6F 6H 6F"}) {
            CAPTURE(words);
            const Pairing pairing = guitar(words, silent);
            CHECK(pairs(pairing, 6).empty());
            CHECK(warned(pairing, WarningCode::unpaired) ==
                  static_cast<std::ptrdiff_t>(pairing.places.size()));
        }
        // What follows an interruption has its own beginning.
        CHECK(pairs(guitar("6H 6F x 6H 6F 6H", silent), 6) == "0-1");
    }
    TEST_CASE("a dead note takes no place in the order, and a thump between two notes neither") {
        for (const Sound& sound : {Sound{}, silent}) {
            CHECK(pairs(guitar("6H x 6F 6H 6F", sound), 6) == "0-2 3-4");
            CHECK(pairs(guitar("6H x 6F 6H x 6F", sound), 6) == "0-2 3-5");
            CHECK(pairs(guitar("x 6H 6F x 6H 6F x", sound), 6) == "1-2 4-5");
        }
    }
    TEST_CASE("a pair begun anew after a dead note is taken as begun anew") {
        for (const Sound& sound : {Sound{}, silent}) {
            const Pairing pairing = guitar("6H x 6H 6F 6H 6F", sound);
            CHECK(pairs(pairing, 6) == "2-3 4-5");
            CHECK(warned(pairing, WarningCode::unpaired) == 1);
        }
    }
    TEST_CASE("a note that is not usable takes its place, and its partner is unpaired") {
        const Pairing pairing = guitar("6H 6F! 6H 6F 6H! 6F!");
        CHECK(places(pairing) == "6H 6F 6H 6F 6H 6F");
        CHECK(pairs(pairing, 6) == "2-3");
        CHECK(warned(pairing, WarningCode::unpaired) == 1);
    }
    TEST_CASE("a pair broken by another string is joined where odd partials or pitch tell") {
        CHECK(pairs(guitar("6H 5o 6F 6H 6F"), 6) == "0-2 3-4");
        CHECK(pairs(guitar("6H 5o 6F"), 6) == "0-2");
        CHECK(pairs(guitar("6H 6F 6H 5o 6F 6H 6F", silent), 6) == "0-1 2-4 5-6");
    }
    TEST_CASE("harmonics plucked in passing, to tune by, are not taken for partners") {
        for (const Sound& sound : {Sound{}, silent}) {
            const Pairing pairing = guitar("6H 5H 4H 6H 6F 6H 6F 5H 5F 5H 5F", sound);
            CHECK(pairs(pairing, 6) == "3-4 5-6");
            CHECK(pairs(pairing, 5) == "7-8 9-10");
            CHECK(places(pairing).substr(0, 5) == "6H 5H");
        }
        CHECK(pairs(guitar("6H 5H 6H 5H 6H 6F 6H 6F 5H 5F", silent), 6) == "4-5 6-7");
    }
    TEST_CASE("where nothing tells what comes after an interruption, nothing is paired and it is said") {
        const Pairing pairing = guitar("6H 5o 6F 6H 5o 6F", Sound{.odd_partials = false, .error = 0.5_cents});
        CHECK(pairs(pairing, 6).empty());
        const Pairing kept =
            guitar("6H 6F 6H 5o 6F 5o 6H 6F 6H", Sound{.odd_partials = false, .error = 0.5_cents});
        CHECK(pairs(kept, 6) == "0-1");
        CHECK(warned(kept, WarningCode::unpaired) == 5);
    }
    TEST_CASE("every recording is a beginning, and a file for each note works when the sound tells") {
        CHECK(pairs(guitar("6H 6F 6H | 6H 6F"), 6) == "0-1 3-4");
        CHECK(pairs(guitar("|6 6H |6 6F |5 5H |5 5F"), 6) == "0-1");
        CHECK(pairs(guitar("6H 6F | 5H 5F | 6H 6F", silent), 6) == "0-1 4-5");
    }
    TEST_CASE(
        "grouped: the first half of a visit are harmonics, the middle one of an odd number is left out") {
        const auto grouped = PluckOrder::grouped;
        CHECK(places(guitar("6H 6H 6H 6F 6F 6F 5H 5F", {}, grouped)) == "6H 6H 6H 6F 6F 6F 5H 5F");
        CHECK(places(guitar("6H 6H 5H 5F 6F 6F", {}, grouped)) == "6H 6H 5H 5F 6F 6F");
        CHECK(places(guitar("6H 6H 6F 6F 5H 5F 6H 6H 6F 6F", silent, grouped)) ==
              "6H 6H 6F 6F 5H 5F 6H 6H 6F 6F");
        const Pairing odd = guitar("6H 6H 6F 6F 6F", {}, grouped);
        CHECK(places(odd) == "6H 6H 6 6F 6F");
        CHECK(warned(odd, WarningCode::unpaired) == 1);
        CHECK(places(guitar("| 6H 6H 5H 5H | 6F 6F 5F 5F", silent, grouped)) == "6H 6H 5H 5H 6F 6F 5F 5F");
    }
    TEST_CASE("drop D: the octave of string 6 and open string 4 are told apart by order and neighbours") {
        const std::string_view drop_d = "D2,A2,D3,G3,B3,E4";
        for (const Sound& sound : {Sound{}, silent}) {
            for (const std::string_view words :
                 {"6H 6F 6H 6F 5H 5F 5H 5F 4H 4F 4H 4F 3H 3F 2H 2F 1H 1F",
                  "6o 6H 6F 6H 6F 5o 5H 5F 5H 5F 4o 4H 4F 4H 4F", "6o 5o 4o 3o 2o 1o 6H 6F 6H 6F 5H 5F 4H 4F",
                  "1H 1F 2H 2F 3H 3F 4H 4F 5H 5F 6o 6H 6F 6H 6F"}) {
                const Pairing pairing = paired(drop_d, words, sound);
                CHECK(places(pairing) == words);
                CHECK(pairing.warnings.empty());
            }
        }
    }
    TEST_CASE("open G: three strings share their notes with three others and are still told apart") {
        const std::string_view words =
            "6o 6H 6F 6H 6F 5o 5H 5F 5H 5F 4o 4H 4F 4H 4F 3o 3H 3F 3H 3F 2o 2H 2F 2H 2F 1o 1H 1F 1H 1F";
        for (const Sound& sound : {Sound{}, silent}) {
            const Pairing pairing = paired("D2,G2,D3,G3,B3,D4", words, sound);
            CHECK(places(pairing) == words);
            CHECK(pairing.warnings.empty());
        }
    }
    TEST_CASE("the octave pairs of a twelve-string are told apart, its unisons are asked about") {
        const std::string_view twelve = "E3,E2,A3,A2,D4,D3,G4,G3,B3,B3,E4,E4";
        const std::string_view words =
            "12H 12F 12H 12F 11H 11F 11H 11F 10H 10F 10H 10F 9H 9F 9H 9F "
            "8H 8F 8H 8F 7H 7F 7H 7F 6H 6F 6H 6F 5H 5F 5H 5F";
        const Pairing octaves = paired(twelve, words);
        CHECK(places(octaves) == words);
        CHECK(octaves.warnings.empty());

        const Pairing unisons = paired(twelve, "4H 4F 4H 4F 3H 3F 3H 3F");
        CHECK(string_notes(unisons, 4).ambiguous);
        CHECK(string_notes(unisons, 3).ambiguous);
        CHECK(warned(unisons, WarningCode::ambiguous_string) > 0);
        CHECK(pairs(paired(twelve, "|4 4H 4F 4H 4F |3 3H 3F 3H 3F"), 3) == "4-5 6-7");
    }
    TEST_CASE(
        "a lone note that two strings can make stays unplaced, and the warning names both and --string") {
        // Either string 4 plucked open twice, or one pair of string 6: nothing tells.
        const Pairing pairing = paired("D2,A2,D3,G3,B3,E4", "4o 4o", Sound{.odd_partials = false});
        CHECK(places(pairing) == "- -");
        CHECK(string_notes(pairing, 6).ambiguous);
        REQUIRE(warned(pairing, WarningCode::ambiguous_string) == 2);
        const std::string& message = pairing.warnings.front().message;
        CHECK(message.find("6 and 4") != std::string::npos);
        CHECK(message.find("--string") != std::string::npos);
        CHECK(pairs(paired("D2,A2,D3,G3,B3,E4", "|6 6H 6F", silent), 6) == "0-1");
        CHECK(places(paired("D2,A2,D3,G3,B3,E4", "|4 4o 4o", silent)) == "4o 4o");
    }
    TEST_CASE("open notes of a pair in unison are not taken for harmonics of the string an octave below") {
        const std::string_view twelve = "E3,E2,A3,A2,D4,D3,G4,G3,B3,B3,E4,E4";
        const std::string_view opens = "12o 11o 10o 9o 8o 7o 6o 5o 4o 3o 2o 1o ";
        const std::string words = std::string{opens} + "12H 12F 12H 12F 11H 11F 11H 11F";
        const Pairing pairing = paired(twelve, words);
        const bool as_played = pairs(pairing, 12) == "12-13 14-15";
        CHECK((as_played || string_notes(pairing, 12).ambiguous));
        CHECK(pairs(pairing, 11) == "16-17 18-19");
    }
    TEST_CASE("doubt about an open note does not spoil a string whose octaves are beyond doubt") {
        const Pairing pairing = paired("D2,A2,D3,G3,B3,E4", "4H 4F 4H 4F 1H 1F 4o 4o 1H 1F", silent);
        CHECK(pairs(pairing, 4) == "0-1 2-3");
        CHECK_FALSE(string_notes(pairing, 4).ambiguous);
    }
    TEST_CASE("a string more than 60 cents off is still placed and paired") {
        for (const double off : {-200.0, -150.0, -61.0, 61.0, 150.0, 200.0}) {
            CAPTURE(off);
            const Pairing pairing = guitar("1H 1F 1H 1F", Sound{.error = 5.0_cents, .off = Cents{off}});
            CHECK(pairs(pairing, 1) == "0-1 2-3");
            CHECK(pairing.warnings.empty());
        }
        CHECK(places(guitar("6o 6H 6F", Sound{.off = Cents{-70.0}})) == "6o 6H 6F");
    }
    TEST_CASE("a whole guitar a semitone low is taken string by string for itself") {
        const std::string_view words =
            "6H 6F 6H 6F 5H 5F 5H 5F 4H 4F 4H 4F 3H 3F 3H 3F 2H 2F 2H 2F 1H 1F 1H 1F";
        CHECK(places(guitar(words, Sound{.off = Cents{-100.0}})) == words);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("nothing heard is nothing placed") {
        const Pairing pairing = guitar("");
        CHECK(pairing.strings.size() == 6);
        CHECK(pairing.places.empty());
        CHECK(pairing.warnings.empty());
        CHECK(places(guitar("x x x")) == "- - -");
    }
    TEST_CASE("a note of no string, and one of another string than the recording should hold, are unknown") {
        const Pairing pairing = guitar("6H 6F ? 6H 6F");
        CHECK(places(pairing) == "6H 6F - 6H 6F");
        REQUIRE(warned(pairing, WarningCode::unknown_note) == 1);
        CHECK(pairing.warnings.front().at == Seconds{2.0});
        const Pairing wrong = guitar("|6 6H 6F 1H 1F");
        CHECK(places(wrong) == "6H 6F - -");
        CHECK(warned(wrong, WarningCode::unknown_note) == 2);
    }
    TEST_CASE(
        "a note fretted at the 13th fret is unknown, not a string out of tune, and spoils only its pair") {
        for (const Sound& sound : {Sound{}, silent}) {
            const Pairing pairing = guitar("6H 6F 6H 6s 6H 6F", sound);
            CHECK(pairs(pairing, 6) == "0-1 4-5");
            CHECK(warned(pairing, WarningCode::unknown_note) == 1);
            CHECK(warned(pairing, WarningCode::out_of_tune) == 0);
            CHECK(warned(pairing, WarningCode::unpaired) == 1);
        }
    }
    TEST_CASE("an error of 70 cents is an error, not another fret") {
        CHECK(pairs(guitar("6H 6F 6H 6F", Sound{.error = 70.0_cents}), 6) == "0-1 2-3");
    }
    TEST_CASE("fretted first, harmonic second: the sound contradicts, and nothing is reversed") {
        const Pairing pairing = guitar("6F 6H 6F 6H 5H 5F 5H 5F");
        CHECK(string_notes(pairing, 6).order_contradicted);
        CHECK_FALSE(string_notes(pairing, 5).order_contradicted);
        CHECK(pairs(pairing, 6) == "0-1 2-3");
        CHECK(guitar("6F 6H").strings[5].order_contradicted);
    }
    TEST_CASE("without odd partials the order is believed") {
        CHECK_FALSE(guitar("6F 6H 6F 6H", silent).strings[5].order_contradicted);
    }
    TEST_CASE("one pair reversed among others is contradicted") {
        CHECK(guitar("6H 6F 6F 6H").strings[5].order_contradicted);
        CHECK(guitar("6H 6F 6H 6F 6F 6H").strings[5].order_contradicted);
        CHECK(guitar("6H 6H 6H 6F").strings[5].order_contradicted);
    }
    TEST_CASE("one harmonic too many, and a fretted note left over by the count, is contradicted") {
        CHECK(guitar("6H 6H 6F").strings[5].order_contradicted);
        CHECK(guitar("6F 6H 6F").strings[5].order_contradicted);
        CHECK_FALSE(guitar("6H 6F 6H").strings[5].order_contradicted);
    }
    TEST_CASE("groups plucked where alternation was said are contradicted by sound, and by pitch alone") {
        for (const Sound& sound : {Sound{}, silent}) {
            CHECK(guitar("6H 6H 6F 6F", sound).strings[5].order_contradicted);
            CHECK(guitar("6H 6H 6H 6F 6F 6F", sound).strings[5].order_contradicted);
            CHECK(guitar("6H 6H 6F 6F 6H 6H 6F 6F", sound).strings[5].order_contradicted);
        }
        // And the other way round, by sound.
        CHECK(guitar("6H 6F 6H 6F", {}, PluckOrder::grouped).strings[5].order_contradicted);
    }
    TEST_CASE("a string that drifts steadily is not taken for groups") {
        const Instrument instrument = instrument_tuned(standard_tuning);
        auto notes = heard(instrument, "6H 6F 6H 6F 6H 6F", Sound{.odd_partials = false, .error = 0.0_cents});
        double drift = 0.0;
        for (HeardNote& note : notes) {
            note.reading->frequency = raised(note.reading->frequency, Cents{drift});
            drift -= 1.2;
        }
        CHECK_FALSE(pair_notes(notes, instrument, PluckOrder::alternate).strings[5].order_contradicted);
    }
    TEST_CASE("weak odd partials lent by other strings contradict nothing") {
        const Instrument instrument = instrument_tuned(standard_tuning);
        for (const Decibels lent : {-56.0_db, -50.0_db, -46.0_db}) {
            auto notes = heard(instrument, "6H 6F 6H 6F 6H 6F", Sound{.error = 0.2_cents});
            notes[3].reading->odd_partials = lent;
            CHECK_FALSE(pair_notes(notes, instrument, PluckOrder::alternate).strings[5].order_contradicted);
            auto all_silent = heard(instrument, "6H 6F 6H 6F", silent);
            for (HeardNote& note : all_silent) {
                note.reading->odd_partials = lent;
            }
            const Pairing pairing = pair_notes(all_silent, instrument, PluckOrder::alternate);
            CHECK_FALSE(pairing.strings[5].order_contradicted);
            CHECK(pairs(pairing, 6) == "0-1 2-3");
            CHECK(warned(pairing, WarningCode::kinds_alike) == 0);  // the pairs differ by 8 cents
        }
    }
    TEST_CASE("only harmonics are no pairs whose error is zero") {
        for (const std::string_view words : {"6H", "6H 6H", "6H 6H 6H 6H", "6H 6H 6H 6H 6H"}) {
            CAPTURE(words);
            const Pairing pairing = guitar(words);
            CHECK(places(pairing) == words);
            CHECK(string_notes(pairing, 6).fretted.empty());
            CHECK_FALSE(string_notes(pairing, 6).harmonics.empty());
        }
    }
    TEST_CASE("notes that all sound touched, if weakly, and do not differ are asked about") {
        const Instrument instrument = instrument_tuned(standard_tuning);
        auto notes = heard(instrument, "6H 6H 6H 6H", silent);
        for (HeardNote& note : notes) {
            note.reading->odd_partials = -50.0_db;
        }
        const Pairing pairing = pair_notes(notes, instrument, PluckOrder::alternate);
        CHECK(pairs(pairing, 6) == "0-1 2-3");
        CHECK(warned(pairing, WarningCode::kinds_alike) == 1);
        // Without odd partials, or with those of harmonics alone, there is nothing to ask.
        CHECK(warned(guitar("6H 6F 6H 6F", {.odd_partials = false, .error = 0.0_cents}),
                     WarningCode::kinds_alike) == 0);
        CHECK(warned(guitar("6H 6F 6H 6F", {.error = 0.0_cents}), WarningCode::kinds_alike) == 0);
    }
    TEST_CASE("a single note without any odd partials is a fretted one") {
        const Pairing pairing = guitar("6F");
        CHECK(places(pairing) == "6F");
        CHECK(string_notes(pairing, 6).harmonics.empty());
    }
}

}  // namespace midspan::test
