// command_survey_test.cpp: a survey as a user runs it.
#include "program/command_survey.hpp"

#include <doctest/doctest.h>

#include <fstream>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "program/command_line.hpp"
#include "program/run_program.hpp"
#include "program/shipped_text.hpp"
#include "support/by_python.hpp"
#include "support/neck_take.hpp"
#include "support/sound_file.hpp"
#include "support/temp_folder.hpp"
#include "support/within.hpp"
#include "view/columns.hpp"

namespace midspan::test {
namespace {

using namespace program;

Result<Command> as_command(std::vector<std::string> words) {
    words.insert(words.begin(), "survey");
    return parse_command_line(words);
}

SurveyCommandOptions options_of(const std::vector<std::string>& words) {
    const auto command = as_command(words);
    REQUIRE(command.ok());
    return std::get<SurveyCommandOptions>(command.value());
}

/// What is plucked of a neck: every string where it rings open, then at six frets above, of which fret 9 is
/// seven cents sharp.
std::string recorded_above(int capo, const std::string& tuning, const TempFolder& folder) {
    const Millimetres length{648.0};
    const Instrument guitar = make_instrument(tuning, {&length, 1}, Hertz{440.0}, {}).value();
    std::vector<NeckPluck> plucks;
    for (int string = static_cast<int>(guitar.strings.size()); string >= 1; --string) {
        for (const int above : {0, 1, 3, 5, 7, 9, 12}) {
            const int fret = capo + above;
            plucks.push_back({string, fret, Cents{fret == 9 ? 7.0 : 0.0}});
        }
    }
    const Hertz rate{16000.0};
    const std::string path = folder.file("neck.wav");
    write_sound_file(path, neck_take(plucks, guitar, rate, Seconds{0.8}, 9), {rate, 1});
    return path;
}

std::string recorded_neck(const TempFolder& folder) {
    const Millimetres length{648.0};
    const Instrument guitar = make_instrument(standard_tuning, {&length, 1}, Hertz{440.0}, {}).value();
    const Hertz rate{16000.0};
    const std::string path = folder.file("neck.wav");
    write_sound_file(path, neck_take(plucks_over_a_sharp_fret_5(), guitar, rate, Seconds{1.0}, 9), {rate, 1});
    return path;
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE(
        "of the neck that ships every pluck is heard right, and each of its faults named with its size") {
        const auto truth = nlohmann::json::parse(content(MIDSPAN_TEST_AUDIO "/neck.json"));
        const Run run = run_program({"survey", MIDSPAN_TEST_AUDIO "/neck.flac", "--scale-length", "648",
                                     "--gauges", truth.at("gauges"), "--json"});
        REQUIRE(run.exit_code == 0);
        const auto found = nlohmann::json::parse(run.out);
        REQUIRE(found.at("plucks").size() == truth.at("plucks").size());
        for (std::size_t i = 0; i < truth.at("plucks").size(); ++i) {
            CAPTURE(i);
            const auto& told = truth.at("plucks").at(i);
            const auto& heard = found.at("plucks").at(i);
            CHECK(heard.at("string") == told.at("string"));
            CHECK(heard.at("fret") == told.at("fret"));
            const Cents off = interval(Hertz{told.at("frequency_hz")}, Hertz{heard.at("frequency_hz")});
            // Two planes beat in a second of sound.
            CHECK(within(off, Cents{0.0}, Cents{0.15}));
        }
        const auto& faults = truth.at("faults");
        const auto& findings = found.at("findings");
        REQUIRE(findings.size() == 3);
        for (const auto& finding : findings)
            CHECK(finding.at("or").empty());
        CHECK(findings.at(0).at("cause") == "fret");
        CHECK(findings.at(0).at("fret") == faults.at(0).at("fret"));
        const auto size_is = [](const nlohmann::json& finding, const nlohmann::json& size) {
            const Millimetres twice = 2.0 * Millimetres{finding.at("length_uncertainty_mm")};
            return within(Millimetres{finding.at("length_mm")}, Millimetres{size}, twice);
        };
        CHECK(findings.at(1).at("cause") == "nut_height");
        CHECK(size_is(findings.at(1), faults.at(2).at("too_high_mm")));
        CHECK(findings.at(2).at("cause") == "saddle");
        CHECK(findings.at(2).at("string") == faults.at(1).at("string"));
        CHECK(size_is(findings.at(2), faults.at(1).at("too_near_mm")));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("the README shows what midspan survey says of the neck that ships") {
        const std::string whole_neck = section(shipped("README.md"), "## The whole neck\n", "\n## ");
        const std::string command = section(whole_neck, "    $ midspan survey", "\n");
        const TempFolder folder;
        REQUIRE(std::system((in_a_checkout(folder) + "export LC_ALL=C.UTF-8; " +
                             command.substr(command.find("midspan")) + " >'" + folder.file("said") + "'")
                                .c_str()) == 0);
        const std::vector<std::string> said = lines(content(folder.file("said")));
        REQUIRE(said.size() > 20);
        std::string wanted;
        for (std::size_t i = 0; i < said.size() && !said[i].starts_with("Least error"); ++i)
            wanted += said[i].empty() ? "\n" : "    " + said[i] + "\n";
        CHECK(whole_neck.find(wanted) != std::string::npos);
    }

    TEST_CASE("the words of a survey become its options") {
        const SurveyCommandOptions plain = options_of({"neck.wav", "--scale-length", "648"});
        CHECK(plain.survey.neck.frets == 22);
        CHECK(plain.survey.capo == 0);
        CHECK(plain.survey.neck.weights.empty());
        const SurveyCommandOptions all =
            options_of({"a.wav", "b.wav", "--scale-length", "648", "--frets", "24", "--capo", "2", "--string",
                        "6,5", "--weight", "1:2,12:1", "--bridge", "one-piece", "--reference", "harmonic",
                        "--picture", "neck.svg"});
        CHECK(all.survey.neck.frets == 24);
        CHECK(all.survey.capo == 2);
        CHECK(all.strings == std::vector{6, 5});
        REQUIRE(all.survey.neck.weights.size() == 2);
        CHECK(all.survey.neck.weights[0].weight == 2.0);
        CHECK(all.survey.neck.bridge == SaddleSharing::one_piece);
        CHECK(all.survey.reference == SurveyReference::harmonic);
        CHECK(all.picture == "neck.svg");
        CHECK_FALSE(options_of({"a.wav", "--scale-length", "648", "--weight", "first-position"})
                        .survey.neck.weights.empty());
        CHECK(options_of({"--listen", "--scale-length", "648", "--device", "2"}).listen);
        const SurveyCommandOptions stated = options_of(
            {"a.wav", "--scale-length", "648", "--gauges", "10,13,17,26w,36w,46w", "--relief", "0.15"});
        CHECK(stated.setup.gauges.size() == 6);
        CHECK(stated.setup.relief);
        CHECK_FALSE(stated.setup.action);
    }

    TEST_CASE("a file of targets has a fret and its cents on each line") {
        const auto targets = parse_targets("# sweet\n1 -2\n\n12\t0.5 # octave\r\n7,1", "t.txt");
        REQUIRE(targets.ok());
        REQUIRE(targets.value().size() == 3);
        CHECK(targets.value()[0].fret == 1);
        CHECK(within(targets.value()[0].target, Cents{-2.0}, Cents{0.0}));
        CHECK(targets.value()[2].fret == 7);
    }

    TEST_CASE("a recorded neck is surveyed: in words, as JSON, and as a picture") {
        const TempFolder folder;
        const std::string path = recorded_neck(folder);
        const std::string svg = folder.file("neck.svg");
        const Run run = run_program({"survey", path, "--scale-length", "648", "--picture", svg});
        CHECK(run.exit_code == 0);
        CHECK(run.err.empty());
        CHECK(run.out.find("1. fret 5: ") != std::string::npos);
        CHECK(run.out.find("sharp on all strings") != std::string::npos);
        for (const std::string& line : lines(run.out))
            CHECK(columns(line) <= 80);
        CHECK(content(svg).starts_with("<"));
        const Run json = run_program({"survey", path, "--scale-length", "648", "--json"});
        CHECK(json.exit_code == 0);
        const auto object = nlohmann::json::parse(json.out);
        CHECK(object.at("schema") == "midspan/survey/1");
        CHECK(object.at("findings").at(0).at("cause") == "fret");
        CHECK(object.at("notes").size() == 14);
        CHECK(against_schema("survey-1", json.out).empty());
        // The README says what every one of its keys means.
        const std::string section_text = section(shipped("README.md"), "## The whole neck\n", "\n## ");
        for (const auto& item : object.items()) {
            CAPTURE(item.key());
            CHECK(section_text.find('`' + item.key() + '`') != std::string::npos);
        }
    }
}

TEST_SUITE("properties") {
    TEST_CASE("above a capo frets keep their numbers, and map and picture show where it sits") {
        const TempFolder folder;
        const std::string path = recorded_above(2, "E2,A2,D3,G3,B3,E4", folder);
        const std::string svg = folder.file("neck.svg");
        const Run run =
            run_program({"survey", path, "--scale-length", "648", "--capo", "2", "--picture", svg});
        CHECK(run.exit_code == 0);
        const auto said = lines(run.out);
        REQUIRE(said.size() > 4);
        CHECK(said[0].starts_with(path));
        CHECK(said[2] == "The neck above the capo at fret 2, cents from equal temperament");
        CHECK(said[3].find("  3   5   7   9") != std::string::npos);
        CHECK(run.out.find("1. fret 9: ") != std::string::npos);
        CHECK(run.out.find("Warnings") == std::string::npos);
        CHECK(content(svg).find(">capo<") != std::string::npos);
        // Where it was forgotten nothing is guessed, and the remedy is named.
        const Run forgotten = run_program({"survey", path, "--scale-length", "648"});
        CHECK(forgotten.out.find("1. fret") == std::string::npos);
        CHECK(forgotten.out.find("--capo") != std::string::npos);
        const Run as_json = run_program({"survey", path, "--scale-length", "648", "--json"});
        CHECK(against_schema("survey-1", as_json.out).empty());
    }
    TEST_CASE("seven strings and dropped ones are surveyed like any others") {
        for (const std::string tuning : {"B1,E2,A2,D3,G3,B3,E4", "D2,A2,D3,G3,B3,E4"}) {
            CAPTURE(tuning);
            const TempFolder folder;
            const std::string path = recorded_above(0, tuning, folder);
            const Run run = run_program({"survey", path, "--scale-length", "648", "--tuning", tuning});
            CHECK(run.exit_code == 0);
            CHECK(run.out.find("1. fret 9: ") != std::string::npos);
            CHECK(run.out.find("  2. ") == std::string::npos);
            CHECK(run.out.find("Warnings") == std::string::npos);
        }
    }
    TEST_CASE("a neck is judged by the strings and heights that were said, and else by those of the record") {
        const TempFolder folder;
        const std::string path = recorded_neck(folder);
        const std::string record = folder.file("record.sqlite");
        const auto judged_by = [&](std::vector<std::string> words) {
            words.insert(words.begin(), {"survey", path, "--json", "--record", record});
            const Run run = run_program(words);
            CAPTURE(run.err);
            REQUIRE(run.exit_code == 0);
            return nlohmann::json::parse(run.out).at("judged_by");
        };
        const auto said = judged_by({"--scale-length", "648", "--gauges", "46w/17,36w,26w,17,13,10",
                                     "--action", "2", "--relief", "0.1"});
        CHECK(within(Millimetres{said.at("strings").at(5).at("gauge_mm").get<double>()}, Millimetres{1.1684},
                     Millimetres{1e-9}));
        CHECK(within(Millimetres{said.at("strings").at(5).at("core_mm").get<double>()}, Millimetres{0.4318},
                     Millimetres{1e-9}));
        CHECK(said.at("strings").at(0).at("wound") == false);
        CHECK(within(Millimetres{said.at("strings").at(3).at("action_mm").get<double>()}, Millimetres{2.0},
                     Millimetres{0.0}));
        CHECK(said.at("strings").at(3).at("nut_height_mm").is_null());
        CHECK(within(Millimetres{said.at("relief_mm").get<double>()}, Millimetres{0.1}, Millimetres{0.0}));

        for (const auto& words : std::vector<std::vector<std::string>>{
                 {"instrument", "add", "Blue one", "--scale-length", "648", "--gauges",
                  "10,13,17,26w,36w,46w", "--bridge", "one-piece", "--frets", "21"},
                 {"visit", "begin", "--instrument", "Blue one"},
                 {"measure", "action", "1.6", "--read-at", "12"},
                 {"measure", "relief", "0.2"}}) {
            std::vector<std::string> with_record = words;
            with_record.insert(with_record.end(), {"--record", record});
            REQUIRE(run_program(with_record).exit_code == 0);
        }
        const auto recorded = judged_by({"--instrument", "Blue one"});
        CHECK(within(Millimetres{recorded.at("strings").at(5).at("gauge_mm").get<double>()},
                     Millimetres{1.1684}, Millimetres{1e-9}));
        CHECK(within(Millimetres{recorded.at("strings").at(3).at("action_mm").get<double>()},
                     Millimetres{1.6}, Millimetres{0.0}));
        CHECK(
            within(Millimetres{recorded.at("relief_mm").get<double>()}, Millimetres{0.2}, Millimetres{0.0}));
        const auto over_it = judged_by({"--instrument", "Blue one", "--action", "2.2"});
        CHECK(within(Millimetres{over_it.at("strings").at(3).at("action_mm").get<double>()}, Millimetres{2.2},
                     Millimetres{0.0}));

        const Run text = run_program({"survey", path, "--instrument", "Blue one", "--record", record});
        CHECK(text.out.find("46w 36w 26w 17 13 10") != std::string::npos);
        CHECK(text.out.find("(usual)") != std::string::npos);
        CHECK(text.out.find("on this bridge") != std::string::npos);
        CHECK(run_program({"survey", path, "--instrument", "Blue one", "--record", record, "--capo", "21"})
                  .exit_code == 2);
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a survey goes to the open visit of its instrument, with every pluck, and out of it again") {
        const TempFolder folder;
        const std::string path = recorded_neck(folder);
        const std::string record = folder.file("record.sqlite");
        const auto run = [](std::vector<std::string> words, const std::string& file) {
            words.insert(words.end(), {"--record", file});
            return run_program(words);
        };
        const std::vector<std::string> survey{"survey", path, "--instrument", "Blue one"};
        const auto visit = [&run](const std::string& file) {
            const Run shown = run({"visit", "show", "--json", "--instrument", "Blue one"}, file);
            return nlohmann::json::parse(shown.out).at("instruments").at(0).at("visits").at(0);
        };
        REQUIRE(run({"instrument", "add", "Blue one", "--scale-length", "648"}, record).exit_code == 0);
        CHECK(run(survey, record).out.find("Not recorded: no visit of 'Blue one' is open") !=
              std::string::npos);
        REQUIRE(run({"visit", "begin", "--instrument", "Blue one"}, record).exit_code == 0);
        std::vector<std::string> untold = survey;
        untold.emplace_back("--no-record");
        CHECK(run(untold, record).exit_code == 0);
        CHECK(visit(record).at("surveys").empty());

        const Run told = run(survey, record);
        CHECK(told.exit_code == 0);
        CHECK(told.out.find("Recorded in visit 1 of 'Blue one'.") != std::string::npos);
        const auto recorded = visit(record);
        REQUIRE(recorded.at("surveys").size() == 1);
        const auto& analysis = recorded.at("surveys").at(0).at("analysis");
        CHECK(analysis.at("plucks").size() == 16);
        CHECK(analysis.at("plucks").at(1).at("reading").at("frequency_hz").is_number());
        CHECK(analysis.at("neck").at("notes").size() == 14);
        CHECK(analysis.at("neck").at("findings").at(0).at("fret") == 5);
        const Run shown = run({"visit", "show", "--instrument", "Blue one"}, record);
        CHECK(shown.out.find("The neck, cents from equal temperament") != std::string::npos);
        CHECK(shown.out.find("1. fret 5: ") != std::string::npos);

        const std::string exported = folder.file("shop.json");
        const std::string other = folder.file("other.sqlite");
        REQUIRE(run({"export", "--output", exported}, record).exit_code == 0);
        REQUIRE(run({"import", exported}, other).exit_code == 0);
        CHECK((visit(other) == recorded));
        CHECK(run({"export"}, other).out == content(exported));
        const Run table = run({"export", "--csv", "surveys"}, record);
        CHECK(lines(table.out).size() == 1 + 14);
        const Run sheet = run({"sheet", "Blue one"}, record);
        CHECK(sheet.out.find("The whole neck") != std::string::npos);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("heights without strings say nothing, and one gauge is no set") {
        const TempFolder folder;
        const std::string path = recorded_neck(folder);
        for (const auto& words : {std::vector<std::string>{"--relief", "0.2"}, {"--gauges", "10,46w"}}) {
            std::vector<std::string> all{"survey", path, "--scale-length", "648"};
            all.insert(all.end(), words.begin(), words.end());
            const Run run = run_program(all);
            CHECK(run.exit_code == 2);
            CHECK(lines(run.err).size() == 1);
        }
    }

    TEST_CASE("what makes no sense is refused with a remedy") {
        const std::vector<std::vector<std::string>> senseless{
            {"--scale-length", "648"},
            {"a.wav", "--listen", "--scale-length", "648"},
            {"a.wav", "--device", "2", "--scale-length", "648"},
            {"a.wav"},
            {"a.wav", "--scale-length", "648", "--frets", "40"},
            {"a.wav", "--scale-length", "648", "--capo", "22"},
            {"a.wav", "--scale-length", "648", "--weight", "1:x"},
            {"a.wav", "--scale-length", "648", "--weight", "1:0"},
            {"a.wav", "--scale-length", "648", "--bridge", "wobbly"},
            {"a.wav", "--scale-length", "648", "--reference", "fretted"}};
        for (const auto& words : senseless) {
            const auto command = as_command(words);
            REQUIRE_FALSE(command.ok());
            CHECK(command.error().fault == Fault::usage);
            CHECK_FALSE(command.error().remedy.empty());
        }
    }

    TEST_CASE("a target that is no fret with its cents names its line") {
        for (const std::string text : {"1 -2\n3\n", "1 2\n1 3", "1 2\n40 1", "1 2\n5 nan", "1 2\n5 1 1"}) {
            const auto targets = parse_targets(text, "t.txt");
            REQUIRE_FALSE(targets.ok());
            CHECK(targets.error().fault == Fault::input);
            CHECK(targets.error().subject == "t.txt");
            CHECK(targets.error().problem.find("line 2") != std::string::npos);
        }
    }

    TEST_CASE("missing files, and sound without a fretted note, end with exit code 3 and one line") {
        const TempFolder folder;
        const std::string silent = folder.file("silent.wav");
        write_sound_file(silent, std::vector<float>(16000, 0.0F), {Hertz{16000.0}, 1});
        for (const auto& words :
             {std::vector<std::string>{"survey", folder.file("no.wav"), "--scale-length", "648"},
              std::vector<std::string>{"survey", silent, "--scale-length", "648"},
              std::vector<std::string>{"survey", silent, "--scale-length", "648", "--target",
                                       folder.file("no.txt")}}) {
            const Run run = run_program(words);
            CHECK(run.exit_code == 3);
            CHECK(lines(run.err).size() == 1);
        }
        const Run nothing = run_program({"survey", silent, "--scale-length", "648", "--json"});
        CHECK(nothing.exit_code == 3);
        CHECK(against_schema("survey-1", nothing.out).empty());
    }
}

}  // namespace midspan::test
