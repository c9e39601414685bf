// neck_drawing_test.cpp: a survey as a person reads it, and as a program does.
//
// Room: tests.
#include "midspan/view/neck_drawing.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <sstream>

#include "midspan/view/survey_json.hpp"
#include "support/random_numbers.hpp"
#include "view/columns.hpp"

namespace midspan::test {
namespace {

/// A guitar whose fret 9 is 4 cents sharp on every string and whose string 2 is 3 cents flat all over.
NeckAnalysis flawed_guitar(const std::vector<int>& frets) {
    const Millimetres length{648.0};
    NeckAnalysis analysis{
        make_instrument(standard_tuning, {&length, 1}, Hertz{440.0}, {}).value(), {}, {}, {}, {}, {}, {}};
    std::vector<SurveyedString> strings;
    std::vector<NeckObservation> observations;
    RandomNumbers random{4};
    for (const InstrumentString& string : analysis.instrument.strings) {
        strings.push_back({string.number, string.open_frequency, string.scale_length, Cents{0.1}});
        for (const int fret : frets) {
            const double error =
                (fret == 9 ? 4.0 : 0.0) + (string.number == 2 ? -4.0 : 0.0) + 0.1 * random.normal();
            observations.push_back({string.number, fret, Cents{error}, Cents{0.02}});
        }
    }
    analysis.neck = survey_neck(strings, observations, {});
    return analysis;
}

std::vector<std::string> lines(const std::string& text) {
    std::vector<std::string> result;
    std::istringstream in{text};
    for (std::string line; std::getline(in, line);)
        result.push_back(line);
    return result;
}

bool has(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

const std::vector<int> some_frets{1, 2, 3, 5, 7, 9, 12, 15};

std::string on_one_line(const std::string& text) {
    std::string joined;
    for (const std::string& line : lines(text))
        joined += line.substr(std::min(line.find_first_not_of(' '), line.size())) + ' ';
    return joined;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("the neck is drawn string by string, fret by fret, and readable without colour") {
        const NeckAnalysis analysis = flawed_guitar(some_frets);
        const std::string text = neck_drawing(analysis, {});
        const auto rows = lines(text);
        REQUIRE(rows.size() > 8);
        CHECK(rows[1].starts_with("fret"));
        CHECK(rows[2].starts_with(" 6  E2"));
        CHECK(rows[7].starts_with(" 1  E4"));
        CHECK(has(rows[2], "+4^"));  // sharp, at fret 9
        CHECK(has(rows[6], "-4v"));  // flat, all along string 2
        CHECK(has(text, "!"));       // the fret is marked
        CHECK_FALSE(has(text, "\x1b"));
        const std::string coloured = neck_drawing(analysis, {LengthUnit::millimetres, true, true});
        CHECK(has(coloured, "\x1b[1;31m +4▲\x1b[0m"));
    }

    TEST_CASE("a string of which every pluck was left out keeps its place, with the reason") {
        NeckAnalysis analysis = flawed_guitar({12});
        auto& notes = analysis.neck.notes;
        std::erase_if(notes, [](const SurveyedNote& note) { return note.string == 3; });
        std::erase_if(analysis.neck.strings, [](const SurveyedStringFit& fit) { return fit.string == 3; });
        analysis.neck.bent = {{3, 12}};
        const auto rows = lines(neck_drawing(analysis, {}));
        REQUIRE(rows.size() > 8);
        CHECK(rows[5].starts_with(" 3  G3"));
        CHECK(has(rows[5], "?"));
        const std::string text = on_one_line(neck_findings(analysis, {}));
        CHECK(has(text, "Left out, since all plucks stand alone or disagree: fret 12 of string 3"));
        CHECK(has(neck_picture(analysis), ">3 G3<"));
        CHECK(has(neck_picture(analysis), ">?<"));
    }

    TEST_CASE("nothing a person reads is wider than 80 columns, however many frets were plucked") {
        std::vector<int> all;
        for (int fret = 1; fret <= 24; ++fret)
            all.push_back(fret);
        for (const bool utf8 : {false, true}) {
            const NeckAnalysis analysis = flawed_guitar(all);
            const Look look{LengthUnit::inches, utf8, false};
            for (const std::string& text :
                 {neck_drawing(analysis, look), neck_findings(analysis, look), neck_places(analysis, look)}) {
                for (const std::string& line : lines(text)) {
                    CAPTURE(line);
                    CHECK(columns(line) <= page_width);
                }
            }
        }
    }

    TEST_CASE("what to do first stands first, in plain words") {
        const std::string text = on_one_line(neck_findings(flawed_guitar(some_frets), {}));
        CHECK(has(text, "1. fret 9: 4.") + has(text, "1. fret 9: 3.") == 1);
        CHECK(has(text, "cents sharp on all strings."));
        CHECK(has(text, "string 2"));
        CHECK(text.find("fret 9") < text.find("string 2"));
        CHECK(has(text, "Would not surely show"));
    }

    TEST_CASE("what stands too high in the nut's place is filed down, but for a capo") {
        NeckAnalysis analysis = flawed_guitar(some_frets);
        analysis.neck.findings = {{{NeckCause::nut_height, {}, {}},
                                   Uncertain<Millimetres>{Millimetres{0.4}, Millimetres{0.05}},
                                   {Cents{4.0}, Cents{0.5}},
                                   1.0,
                                   {},
                                   {}}};
        CHECK(has(neck_findings(analysis, {}), "Lower the slot"));
        analysis.options.capo = 2;
        const std::string with_capo = neck_findings(analysis, {});
        CHECK_FALSE(has(with_capo, "slot"));
        CHECK_FALSE(has(with_capo, "nut fault"));
        CHECK(has(with_capo, "Set it again"));
    }
    TEST_CASE("the map says above which capo the neck begins, and what its cents are counted from") {
        NeckAnalysis analysis = flawed_guitar(some_frets);
        CHECK(neck_drawing(analysis, {}).starts_with("The neck, cents from equal temperament\n"));
        analysis.options.capo = 2;
        analysis.options.neck.targets = {{12, Cents{-1.0}}};
        CHECK(neck_drawing(analysis, {})
                  .starts_with("The neck above the capo at fret 2, cents from the target\n"));
        CHECK(has(neck_places(analysis, {}), "saddle and capo"));
        for (const std::string& text : {neck_drawing(analysis, {}), neck_places(analysis, {})})
            CHECK_FALSE(has(text, "nut's"));
    }

    TEST_CASE("a neck without a fault says so") {
        NeckAnalysis analysis = flawed_guitar({12});
        analysis.neck.findings.clear();
        CHECK(has(neck_findings(analysis, {}), "no fault"));
    }

    TEST_CASE("without notes nothing is drawn") {
        NeckAnalysis analysis = flawed_guitar(some_frets);
        analysis.neck = {};
        CHECK(neck_drawing(analysis, {}).empty());
        CHECK(neck_findings(analysis, {}).empty());
        CHECK(neck_places(analysis, {}).empty());
        CHECK(has(neck_picture(analysis), "<svg"));
    }

    TEST_CASE("the picture has a disc for every sharp note and a square for every flat one") {
        const NeckAnalysis analysis = flawed_guitar(some_frets);
        const std::string svg = neck_picture(analysis);
        const auto count = [&svg](const std::string& part) {
            int found = 0;
            for (auto at = svg.find(part); at != std::string::npos; at = svg.find(part, at + 1))
                ++found;
            return found;
        };
        int sharp = 0;
        int flat = 0;
        for (const SurveyedNote& note : analysis.neck.notes) {
            sharp += note.error.value >= drawn_as_error ? 1 : 0;
            flat += note.error.value <= -drawn_as_error ? 1 : 0;
        }
        CHECK(count("#b03000") == sharp);
        CHECK(count("#0050a0") == flat);
        CHECK(has(svg, "9!"));
    }

    TEST_CASE("plucks that were left out are told of together, by string") {
        NeckAnalysis analysis = flawed_guitar(some_frets);
        REQUIRE(std::find(some_frets.begin(), some_frets.end(), 12) != some_frets.end());
        analysis.neck.bent = {{2, 5}, {2, 12}, {6, 9}};
        CHECK(has(on_one_line(neck_findings(analysis, {})),
                  "was left out of frets 5 and 12 of string 2; fret 9 of string 6; pluck them again."));
    }

    TEST_CASE("a string that was plucked at few frets is said to be the one of which little would show") {
        NeckAnalysis analysis = flawed_guitar(some_frets);
        CHECK_FALSE(has(on_one_line(neck_findings(analysis, {})), "far less would show"));
        std::erase_if(analysis.neck.notes,
                      [](const SurveyedNote& note) { return note.string == 4 && note.fret != 12; });
        CHECK(
            has(on_one_line(neck_findings(analysis, {})), "those of string 4, which was plucked at 1 fret;"));
    }

    TEST_CASE("a string far off flattens no other on the picture, and a capo is drawn") {
        NeckAnalysis analysis = flawed_guitar(some_frets);
        const auto picture = [&] { return neck_picture(analysis); };
        CHECK_FALSE(has(picture(), "farthest stand for 20 cents"));
        CHECK_FALSE(has(picture(), ">capo<"));
        analysis.neck.notes.front().error.value = Cents{90.0};
        analysis.options.capo = 1;
        CHECK(has(picture(), "farthest stand for 20 cents"));
        CHECK(has(picture(), ">capo<"));
    }

    TEST_CASE("the JSON is one object with the schema's keys, and its numbers are those of the survey") {
        const NeckAnalysis analysis = flawed_guitar(some_frets);
        const auto json = nlohmann::json::parse(survey_json(analysis));
        CHECK(json.at("schema") == "midspan/survey/1");
        for (const char* key :
             {"recordings", "findings", "strings", "frets", "notes", "not_separated", "detectable",
              "left_out", "scatter_cents", "before_cents", "after_saddle_cents", "after_saddle_and_nut_cents",
              "capo", "a4_hz", "warnings", "plucks"}) {
            CHECK(json.contains(key));
        }
        REQUIRE(json.at("findings").size() == analysis.neck.findings.size());
        CHECK(json.at("findings")[0].at("cause") == "fret");
        CHECK(json.at("findings")[0].at("fret") == 9);
        CHECK(json.at("strings").size() == 6);
        CHECK(json.at("strings")[0].at("saddle_alone").at("saddle_mm") ==
              analysis.neck.strings[0].saddle_alone.value.value());
        CHECK(json.at("notes").size() == 48);
    }
}

}  // namespace midspan::test
