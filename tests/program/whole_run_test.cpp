// whole_run_test.cpp: the program as a user runs it, from the words typed to the exit code.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "program/check_refused.hpp"
#include "program/command_line.hpp"
#include "program/documents.hpp"
#include "program/run_program.hpp"
#include "support/sound_file.hpp"
#include "support/temp_folder.hpp"

namespace midspan::test {
namespace {

std::size_t count_lines(const std::string& text) {
    return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

/// A refusal: nothing on stdout, one line on stderr that begins as given.
Run analyze(const std::string& recording) {
    return run_program({"analyze", recording, "--scale-length", "648"});
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("the version is the name and a number, and nothing else") {
        const Run run = run_program({"--version"});
        CHECK(run.exit_code == 0);
        CHECK(run.out.starts_with("midspan "));
        CHECK(count_lines(run.out) == 1);
        CHECK(run.err.empty());
    }

    TEST_CASE("help goes to stdout, whatever else was typed") {
        for (const auto& words : {std::vector<std::string>{"analyze", "--help"},
                                  std::vector<std::string>{"analyze", "x.wav", "-h", "--nonsense"}}) {
            const Run run = run_program(words);
            CHECK(run.exit_code == 0);
            CHECK(run.out == program::help_of(program::commands()[0]));
            CHECK(run.err.empty());
        }
        CHECK(run_program({"--help"}).out == program::help_of(program::commands()));
    }

    TEST_CASE("a prediction gives gauges to strings in either order they are named in") {
        const std::vector<std::string> set{"predict", "--scale-length", "648", "--json", "--gauges"};
        auto thin_first = set, as_tuned = set;
        thin_first.emplace_back("10,13,17,26w,36w,46w");
        as_tuned.emplace_back("46w,36w,26w,17,13,10");
        const Run run = run_program(thin_first);
        CHECK(run.exit_code == 0);
        CHECK(run.err.empty());
        CHECK(run.out.starts_with("{"));
        CHECK(run.out == run_program(as_tuned).out);
        CHECK(run.out.find("\"schema\": \"midspan/prediction/1\"") != std::string::npos);
    }

    TEST_CASE("Ctrl-C ends the program quietly with 130") {
        const TempFolder folder;
        const std::string said = folder.file("said");
        const std::string command = "sleep 1 | timeout --preserve-status -s INT 0.5 '" MIDSPAN_PROGRAM
                                    "' analyze - --scale-length 648 >'" +
                                    said + "' 2>&1";
        CHECK(std::system(command.c_str()) == 130 << 8);
        CHECK(std::filesystem::file_size(said) == 0);
    }

    TEST_CASE("a reader of stdout who goes away ends the program quietly") {
        Surroundings gone;
        gone.out_is_closed_early = true;
        const Run run = run_program({"--help"}, gone);
        CHECK(run.exit_code == 0);
        CHECK(run.err.empty());
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("wrong usage ends with 2, one line, and a remedy") {
        CHECK(run_program({"analyze", "x.wav"}).err ==
              "midspan: analyze: no scale length; double the distance from nut to 12th fret and give it as "
              "--scale-length, or give --instrument NAME\n");
        check_refused(run_program({}), 2, "no command: ");
        check_refused(run_program({"tune"}), 2, "tune: no such command; ");
        check_refused(run_program({"analyze", "x.wav"}), 2, "analyze: no scale length; ");
        check_refused(run_program({"analyze", "--scale-length", "648"}), 2, "analyze: no recording; ");
        const auto with_scale = [](const char* text) {
            return run_program({"analyze", "x.wav", "--scale-length", text});
        };
        const Run inches = with_scale("25.5");
        check_refused(inches, 2, "");
        CHECK(inches.err.find("25.5 mm? write 25.5in") != std::string::npos);
        check_refused(with_scale("-648"), 2, "");
        check_refused(with_scale("30000"), 2, "");
        const Run note = run_program({"analyze", "x.wav", "--scale-length", "648", "--tuning", "E2,X9"});
        check_refused(note, 2, "");
        CHECK(note.err.find("X9") != std::string::npos);
    }

    TEST_CASE("a prediction for more or fewer strings than the tuning has ends with 2") {
        check_refused(run_program({"predict", "--scale-length", "648", "--gauges", "10,13,17"}), 2,
                      "--gauges: 3 gauges for 6 strings");
        check_refused(run_program({"predict", "--scale-length", "648", "--gauges", "10,13,17,26w,36w,46w",
                                   "--to-tuning", "E4"}),
                      2, "");
    }

    TEST_CASE(
        "a recording that is not there, is a folder, is empty or is no sound ends with 3 and its name") {
        const TempFolder folder;
        const std::string missing = folder.file("missing.wav");
        check_refused(analyze(missing), 3, missing + ": there is no such file; ");
        check_refused(analyze(folder.path().string()), 3, folder.path().string() + ": ");
        const std::string empty = folder.file("empty.wav");
        std::ofstream{empty}.flush();
        check_refused(analyze(empty), 3, empty + ": ");
        const std::string text = folder.file("text.wav");
        std::ofstream{text} << "this is a shopping list: strings, files, tape\n";
        check_refused(analyze(text), 3, text + ": ");
        const std::string header_only = folder.file("header-only.wav");
        write_sound_file(header_only, {}, {Hertz{48000.0}, 1});
        check_refused(analyze(header_only), 3, header_only + ": ");
    }

    TEST_CASE("with several recordings the one at fault is named, and nothing is half told") {
        const TempFolder folder;
        const std::string quiet = folder.file("quiet.wav");
        write_sound_file(quiet, std::vector<float>(48000, 0.0F), {Hertz{48000.0}, 1});
        const std::string missing = folder.file("missing.wav");
        check_refused(run_program({"analyze", quiet, missing, "--scale-length", "648", "--json"}), 3,
                      missing + ": ");
    }

    TEST_CASE("what is no sound on standard input is refused like a file") {
        Surroundings piped;
        piped.in = "no sound";
        const Run run = run_program({"analyze", "-", "--scale-length", "648"}, piped);
        CHECK(run.exit_code == 3);
        CHECK(run.out.empty());
        CHECK(count_lines(run.err) == 1);
    }

    TEST_CASE("an instrument file that is not there, is a folder or makes no sense is named") {
        const TempFolder folder;
        const auto with_instrument = [](const std::string& file) {
            return run_program({"analyze", "x.wav", "--instrument", file});
        };
        const std::string missing = folder.file("missing.toml");
        check_refused(with_instrument(missing), 3, missing + ": there is no such file; ");
        check_refused(with_instrument(folder.path().string()), 3, folder.path().string() + ": is a folder; ");
        const std::string wrong = folder.file("wrong.toml");
        std::ofstream{wrong} << "scale_length = \n";
        const Run run = with_instrument(wrong);
        CHECK(run.exit_code == 3);
        CHECK(run.err.find(wrong) != std::string::npos);
        CHECK(count_lines(run.err) == 1);
    }

    TEST_CASE("a channel or a string that is not there ends with 2") {
        const TempFolder folder;
        const std::string mono = folder.file("mono.wav");
        write_sound_file(mono, std::vector<float>(4800, 0.0F), {Hertz{48000.0}, 1});
        check_refused(run_program({"analyze", mono, "--scale-length", "648", "--channel", "2"}), 2,
                      mono + ": has no channel 2; ");
        check_refused(run_program({"analyze", mono, "--scale-length", "648", "--string", "7"}), 2,
                      "--string 7: no such string; ");
    }

    TEST_CASE("a name that plays with the terminal is told without its escapes") {
        const Run run = analyze("no\x1b[2J\nsuch.wav");
        CHECK(run.err.starts_with("midspan: no?[2J?such.wav: "));
        CHECK(count_lines(run.err) == 1);
    }

    TEST_CASE("a full disk behind stdout is told, with 5") {
        if (!std::filesystem::exists("/dev/full")) return;
        CHECK(std::system("\"" MIDSPAN_PROGRAM "\" --help >/dev/full 2>/dev/null") == 5 << 8);
    }
}

}  // namespace midspan::test
