// live_listen_test.cpp: whole live runs, with a sound file in place of the microphone.
#include <doctest/doctest.h>
#include <signal.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <numbers>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

#include "midspan/sound/recording.hpp"
#include "program/run_program.hpp"
#include "program/running_program.hpp"
#include "support/neck_take.hpp"
#include "support/sound_file.hpp"
#include "support/temp_folder.hpp"
#include "support/virtual_mic/virtual_mic.hpp"

namespace midspan::test {
namespace {

using Json = nlohmann::json;
using namespace std::chrono_literals;

const std::string low_e = MIDSPAN_TEST_AUDIO "/low-e.flac";

std::vector<std::string> listen_words(const std::vector<std::string>& more = {}) {
    std::vector<std::string> words{"listen", "--scale-length", "648"};
    words.insert(words.end(), more.begin(), more.end());
    return words;
}

/// The last line: the analysis.
Json analysis_of(const std::string& out) {
    const std::string lines = out.substr(0, out.find_last_not_of('\n') + 1);
    return Json::parse(lines.substr(lines.find_last_of('\n') + 1));
}

Json analysed(const std::string& recording) {
    return Json::parse(run_program({"analyze", recording, "--scale-length", "648", "--json"}).out);
}

/// All but what a recording is called and how long it goes on after the last note.
Json heard_in(Json analysis) {
    analysis.erase("recordings");
    return analysis;
}

/// Listens until the sound is over, ends it like Ctrl-C, and gives what was left behind.
Run listen_to_all(const VirtualMic& mic, const std::vector<std::string>& words, int signal = SIGINT) {
    RunningProgram program{words, mic.variables()};
    CHECK(program.wait_until([&] { return mic.played(); }));
    std::this_thread::sleep_for(200ms);  // what was read last is on its way through the callback
    program.send(signal);
    return program.end();
}

/// Stops the program, once so many seconds of the take were kept, for long enough to lose samples.
void stop_for_a_second(RunningProgram& program, const std::string& kept, std::uintmax_t seconds) {
    const std::uintmax_t header = 1000;
    const std::uintmax_t bytes = header + seconds * 24'000 * sizeof(float);
    CHECK(program.wait_until(
        [&] { return std::filesystem::exists(kept) && std::filesystem::file_size(kept) > bytes; }));
    program.send(SIGSTOP);
    std::this_thread::sleep_for(1s);
    program.send(SIGCONT);
}

bool warns(const Json& analysis, const std::string& code) {
    const Json& warnings = analysis["warnings"];
    return std::any_of(warnings.begin(), warnings.end(), [&](const Json& w) { return w["code"] == code; });
}

/// One line on stderr that names what is wrong and a remedy.
void check_told(const Run& run, int exit_code, const std::string& beginning, const std::string& within) {
    CAPTURE(run.err);
    CHECK(run.exit_code == exit_code);
    CHECK(std::count(run.err.begin(), run.err.end(), '\n') == 1);
    CHECK(run.err.starts_with("midspan: " + beginning));
    CHECK(run.err.find(within) != std::string::npos);
    CHECK(run.err.find("; ") != std::string::npos);
}

/// Hears the take to its end, with the voice `espeak-ng` that lies in the folder.
void listen_with_voice(const TempFolder& folder) {
    const VirtualMic mic{low_e};
    std::vector<std::string> variables = mic.variables();
    variables.push_back("PATH=" + folder.path().string() + ":/usr/bin:/bin");
    RunningProgram program{listen_words({"--say"}), variables};
    CHECK(program.wait_until([&] { return mic.played(); }));
    program.send(SIGINT);
    CHECK(program.end().exit_code == 0);
}

/// A file of silence, or of a sine at half of full scale.
std::string written(const TempFolder& folder, double seconds, double rate, double frequency = 0.0) {
    std::vector<float> samples(static_cast<std::size_t>(seconds * rate));
    for (std::size_t i = 0; i < samples.size(); ++i) {
        samples[i] = static_cast<float>(
            0.5 * std::sin(2.0 * std::numbers::pi * frequency * static_cast<double>(i) / rate));
    }
    const std::string path = folder.file("sound.wav");
    write_sound_file(path, samples, {Hertz{rate}, 1}, SF_FORMAT_WAV | SF_FORMAT_PCM_16);
    return path;
}

std::vector<float> samples_of(const std::string& path) {
    auto recording = Recording::open(path);
    REQUIRE(recording.ok());
    std::vector<float> samples;
    for (;;) {
        const auto block = recording.value().next();
        REQUIRE(block.ok());
        if (block.value().frames() == 0) return samples;
        samples.insert(samples.end(), block.value().samples.begin(), block.value().samples.end());
    }
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("live, and from a file: the same sound gives the same result to the last digit") {
        const TempFolder folder;
        const std::string kept = folder.file("kept.wav");
        const VirtualMic mic{low_e};
        const Run run = listen_to_all(mic, listen_words({"--json", "--keep", kept}));
        CHECK(run.exit_code == 0);
        CHECK(run.err.empty());
        const Json live = analysis_of(run.out);
        CHECK(heard_in(live) == heard_in(analysed(low_e)));
        CHECK(heard_in(live) == heard_in(analysed(kept)));
    }

    TEST_CASE(
        "a neck that is heard live is surveyed as its recording is, and goes to the record as heard live") {
        const TempFolder folder;
        const Millimetres length{648.0};
        const Instrument guitar = make_instrument(standard_tuning, {&length, 1}, Hertz{440.0}, {}).value();
        const std::vector<NeckPluck> plucks = plucks_over_a_sharp_fret_5();
        const std::string neck = folder.file("neck.wav");
        write_sound_file(neck, neck_take(plucks, guitar, Hertz{24000.0}, Seconds{1.0}, 9),
                         {Hertz{24000.0}, 1});
        const std::string record = folder.file("record.sqlite");
        REQUIRE(run_program({"instrument", "add", "Blue one", "--scale-length", "648", "--record", record})
                    .exit_code == 0);
        REQUIRE(run_program({"visit", "begin", "--instrument", "Blue one", "--record", record}).exit_code ==
                0);
        const VirtualMic mic{neck};
        const Run run = listen_to_all(
            mic, {"survey", "--listen", "--json", "--instrument", "Blue one", "--record", record});
        CAPTURE(run.err);
        CHECK(run.exit_code == 0);
        CHECK(run.err.empty());
        const Json live = Json::parse(run.out);
        CHECK(live["plucks"].size() == plucks.size());
        CHECK(live["findings"][0]["fret"] == 5);
        CHECK(heard_in(live) ==
              heard_in(Json::parse(run_program({"survey", neck, "--scale-length", "648", "--json"}).out)));
        const Json visit = Json::parse(
            run_program({"visit", "show", "--json", "--record", record}).out)["instruments"][0]["visits"][0];
        REQUIRE(visit["surveys"].size() == 1);
        CHECK(visit["surveys"][0]["source"] == "listen");
    }

    TEST_CASE("a live survey says on the terminal what it hears, although its drivers are kept quiet") {
        // script gives it a terminal for stderr too; Ctrl-C comes after two seconds, or more where all is
        // slow.
        std::string shown;
        for (const char* seconds : {"2", "10", "60"}) {
            const TempFolder folder;
            const VirtualMic mic{low_e};
            std::string command = "env TERM=xterm LC_ALL=C.UTF-8";
            for (const std::string& variable : mic.variables())
                command += " '" + variable + "'";
            command += std::string{" script -qec \"timeout --foreground -s INT "} + seconds +
                       " " MIDSPAN_PROGRAM
                       " survey --listen --scale-length 648 --no-record\" /dev/null </dev/null >'" +
                       folder.file("shown") + "' 2>&1";
            static_cast<void>(std::system(command.c_str()));
            shown = content(folder.file("shown"));
            if (shown.find("Listening") != std::string::npos) break;
        }
        CAPTURE(shown);
        CHECK(shown.find("Listening: pluck a string open") != std::string::npos);
    }

    TEST_CASE("what is kept as FLAC gives the result of the live run, too, and SIGTERM ends like Ctrl-C") {
        const TempFolder folder;
        const std::string kept = folder.file("kept.flac");
        const VirtualMic mic{low_e};
        const Run run = listen_to_all(mic, listen_words({"--json", "--keep", kept}), SIGTERM);
        CHECK(run.exit_code == 0);
        CHECK(heard_in(analysis_of(run.out)) == heard_in(analysed(kept)));
    }

    TEST_CASE("the inputs are listed with name, system, channels and rates, those of the hardware first") {
        const VirtualMic mic{low_e};
        const Run run = run_program({"devices"}, {.variables = mic.variables()});
        CHECK(run.exit_code == 0);
        CHECK(run.err.empty());
        CHECK(run.out.find("*  1  mic      ALSA, mono, 24 kHz\n") != std::string::npos);
        CHECK(run.out.find("   2  default  ALSA, any channels and rate: it converts\n") != std::string::npos);
        const Json json = Json::parse(run_program({"devices", "--json"}, {.variables = mic.variables()}).out);
        CHECK(json["schema"] == "midspan/devices/1");
        REQUIRE(json["devices"].size() == 2);
        CHECK(json["devices"][0]["rates_hz"] == std::vector<int>{24'000});
        CHECK(json["devices"][0]["default"] == true);
        CHECK(json["devices"][1]["converts"] == true);
    }

    TEST_CASE("a converting input is named as such, and at its own rate not a sample is changed") {
        const TempFolder folder;
        const std::string sine = written(folder, 4.0, 48'000.0, 440.0);
        const std::string kept = folder.file("kept.wav");
        const VirtualMic mic{sine};
        const Run run = listen_to_all(mic, listen_words({"--json", "--device", "default", "--keep", kept}));
        CHECK(warns(analysis_of(run.out), "converting_device"));
        const std::vector<float> given = samples_of(sine);
        std::vector<float> heard = samples_of(kept);
        REQUIRE(heard.size() >= 2 * given.size());  // the converter makes two channels of one
        bool same = true;
        for (std::size_t i = 0; i < given.size(); ++i)
            same = same && heard[2 * i] == given[i] && heard[2 * i + 1] == given[i];
        CHECK(same);  // so the pitch is off by 0.000 cent
    }

    TEST_CASE("every event is an object on a line of its own, with its time counted in the sound") {
        const VirtualMic mic{low_e};
        const Run run = listen_to_all(mic, listen_words({"--json"}));
        std::istringstream lines{run.out};
        std::vector<std::string> events;
        double last = 0.0;
        for (std::string line; std::getline(lines, line);) {
            const Json object = Json::parse(line);
            if (object["schema"] != "midspan/event/1") continue;
            events.push_back(object["event"]);
            CHECK(object["at_s"].get<double>() >= last);
            last = object["at_s"];
        }
        for (const char* event : {"awaited", "reading", "note", "result", "end"}) {
            CAPTURE(event);
            CHECK(std::count(events.begin(), events.end(), event) >= 1);
        }
        CHECK(events.back() == "end");
    }

    TEST_CASE("spoken are the results and what to do next, one after the other, and nobody waits for it") {
        const TempFolder folder;
        const std::string voice = folder.file("espeak-ng");
        std::ofstream{voice} << "#!/bin/sh\necho \"$1\" >>'" << folder.file("said") << "'\n";
        std::filesystem::permissions(voice, std::filesystem::perms::owner_all);
        listen_with_voice(folder);
        std::ifstream said{folder.file("said")};
        const std::string text{std::istreambuf_iterator<char>{said}, {}};
        CAPTURE(text);
        CHECK(text.starts_with("--version\n"));
        CHECK(text.find("toward the") != std::string::npos);
    }

    TEST_CASE("the voice that is installed speaks every sentence to its end, on a device that is not heard") {
        const std::string real = "/usr/bin/espeak-ng";
        if (!std::filesystem::exists(real)) {
            MESSAGE("skipped: espeak-ng is not installed");
            return;
        }
        const TempFolder folder;
        std::ofstream{folder.file("silent.conf")} << "pcm.!default { type null }\n";
        const std::string voice = folder.file("espeak-ng");
        std::ofstream{voice} << "#!/bin/sh\nALSA_CONFIG_PATH='" << folder.file("silent.conf") << "' " << real
                             << " \"$@\" >'" << folder.file("out") << "' 2>&1\necho \"$? $1\" >>'"
                             << folder.file("ended") << "'\n";
        std::filesystem::permissions(voice, std::filesystem::perms::owner_all);
        listen_with_voice(folder);
        const auto ended = [&] {
            std::ifstream file{folder.file("ended")};
            return std::string{std::istreambuf_iterator<char>{file}, {}};
        };
        // The last one may still speak.
        for (int i = 0; i < 600 && ended().find("toward the") == std::string::npos; ++i)
            std::this_thread::sleep_for(100ms);
        const std::string text = ended();
        CAPTURE(text);
        CHECK(text.starts_with("0 --version\n0 "));
        CHECK(text.find("toward the") != std::string::npos);
        std::istringstream lines{text};
        for (std::string line; std::getline(lines, line);)
            CHECK(line.starts_with("0 "));
    }

    TEST_CASE("the terminal is given back before the result, whether a key ended it or the device is gone") {
        for (const bool unplugged : {false, true}) {
            CAPTURE(unplugged);
            const VirtualMic mic{low_e};
            std::vector<std::string> variables = mic.variables();
            variables.emplace_back("TERM=xterm");
            RunningProgram program{listen_words(), variables, true};
            CHECK(program.wait_until([&] { return mic.played(); }));
            if (unplugged) {
                mic.unplug();
            } else {
                program.type("q");
            }
            const Run run = program.end();
            CHECK(run.exit_code == (unplugged ? 4 : 0));
            CHECK(std::count(run.err.begin(), run.err.end(), '\n') == (unplugged ? 1 : 0));
            const std::size_t given_back = run.out.find("\x1b[?1049l");
            REQUIRE(given_back != std::string::npos);
            CHECK(run.out.find("Verdict", given_back) != std::string::npos);
        }
    }

    TEST_CASE("minutes of silence are waited through, and end with no usable note") {
        const TempFolder folder;
        const VirtualMic mic{written(folder, 180.0, 48'000.0), {.speed = 2.0 * quick}};
        const Run run = listen_to_all(mic, listen_words({"--json"}));
        check_told(run, 3, "input 1 'mic': no usable note", "pluck each string");
        CHECK(analysis_of(run.out)["recordings"][0]["duration_s"].get<double>() >= 180.0);
    }

    TEST_CASE("a closed terminal ends it like Ctrl-C: all that was heard is in the file") {
        const TempFolder folder;
        const std::string kept = folder.file("kept.wav");
        const VirtualMic mic{low_e};
        std::vector<std::string> variables = mic.variables();
        variables.emplace_back("TERM=xterm");
        RunningProgram program{listen_words({"--keep", kept}), variables, true};
        CHECK(program.wait_until([&] { return mic.played(); }));
        program.close_terminal();
        const Run run = program.end();
        CHECK(run.exit_code == 0);
        CHECK(heard_in(analysed(kept))["strings"] == heard_in(analysed(low_e))["strings"]);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("without a device, and without any configuration of one, both commands say so with 4") {
        const VirtualMic mic{low_e};
        mic.unplug();
        const Surroundings without{.variables = mic.variables()};
        check_told(run_program({"devices"}, without), 4, "sound system: no input device", "plug in");
        check_told(run_program(listen_words(), without), 4, "sound system: no input device", "plug in");

        const TempFolder folder;
        std::ofstream{folder.file("asound.conf")} << "defaults.none 1\n";
        const Surroundings unknown{.variables = {"ALSA_CONFIG_PATH=" + folder.file("asound.conf")}};
        check_told(run_program(listen_words(), unknown), 4, "sound system: ", "ALSA_CONFIG_PATH");
    }

    TEST_CASE("an input that is not there, is busy, or has no such channel or rate is named") {
        const VirtualMic mic{low_e};
        const Surroundings here{.variables = mic.variables()};
        check_told(run_program(listen_words({"--device", "USB"}), here), 4, "input 'USB': no such input",
                   "midspan devices");
        check_told(run_program(listen_words({"--channel", "2"}), here), 2, "input 1 'mic': has no channel 2",
                   "leave --channel out");
        const VirtualMic busy{low_e, {.busy = true}};
        check_told(run_program(listen_words({"--device", "mic"}), {.variables = busy.variables()}), 4,
                   "input 1 'mic': cannot be opened", "busy");
        const TempFolder folder;
        const VirtualMic slow{written(folder, 1.0, 4'000.0)};
        check_told(run_program(listen_words({"--device", "1"}), {.variables = slow.variables()}), 4,
                   "input 1 'mic': offers no rate", "choose another");
    }

    TEST_CASE("unplugged in the middle: what was heard is kept and measured, and the end is 4") {
        const TempFolder folder;
        const std::string kept = folder.file("kept.wav");
        const VirtualMic mic{low_e, {.unplug_ms = 10'000}};
        RunningProgram program{listen_words({"--json", "--keep", kept}), mic.variables()};
        const Run run = program.end();
        check_told(run, 4, "input 1 'mic': unplugged after 10 s", "what was heard is kept");
        const Json live = analysis_of(run.out);
        CHECK(live["recordings"][0]["duration_s"].get<double>() > 9.0);
        CHECK(live["plucks"].size() == 4);
        CHECK(live["strings"][0]["error_cents"] == analysed(kept)["strings"][0]["error_cents"]);
    }

    TEST_CASE("a device that stalls without a word is found out, and the end is 4") {
        const VirtualMic mic{low_e, {.stall_ms = 6'000}};
        RunningProgram program{listen_words({"--json"}), mic.variables()};
        const Run run = program.end();
        check_told(run, 4, "input 1 'mic': no more sound after", "what was heard is kept");
        CHECK(!analysis_of(run.out)["plucks"].empty());
    }

    TEST_CASE("a device that does not let go at the end holds nobody up: the result is whole") {
        const TempFolder folder;
        const std::string kept = folder.file("kept.wav");
        const VirtualMic mic{low_e, {.clings = true}};
        const Run run = listen_to_all(mic, listen_words({"--json", "--keep", kept}));
        CHECK(run.exit_code == 0);
        CHECK(run.err.empty());
        CHECK(heard_in(analysis_of(run.out)) == heard_in(analysed(kept)));
    }

    TEST_CASE("samples that are lost are named, and the note they fell into is void, live and in the file") {
        const TempFolder folder;
        const std::string kept = folder.file("kept.wav");
        const VirtualMic mic{low_e, {.speed = 2.0, .patience_ms = 0, .unplug_ms = 8'000}};
        RunningProgram program{listen_words({"--json", "--keep", kept}), mic.variables()};
        stop_for_a_second(program, kept, 2);
        const Run run = program.end();
        CHECK(run.exit_code == 4);
        const Json live = analysis_of(run.out);
        CHECK(warns(live, "samples_lost"));
        const std::vector<float> heard = samples_of(kept);
        CHECK(std::count_if(heard.begin(), heard.end(), [](float s) { return std::isnan(s); }) >= 1);
        const auto is_void = [](const Json& pluck) {
            const Json& codes = pluck["warnings"];
            return pluck["used"] == false && std::any_of(codes.begin(), codes.end(), [](const Json& code) {
                       return code == "samples_lost" || code == "not_finite";
                   });
        };
        const Json& plucks = live["plucks"];
        CHECK(std::any_of(plucks.begin(), plucks.end(), is_void));
    }

    TEST_CASE("a device that does not start again after it lost samples is found out, and the end is 4") {
        const TempFolder folder;
        const std::string kept = folder.file("kept.wav");
        const VirtualMic mic{low_e, {.speed = 1.0, .patience_ms = 0, .mmap = false}};
        RunningProgram program{listen_words({"--keep", kept}), mic.variables()};
        stop_for_a_second(program, kept, 0);
        const Run run = program.end();
        CAPTURE(run.err);
        CHECK(run.exit_code == 4);
    }

    TEST_CASE("a voice that is not installed is told before it begins") {
        check_told(run_program(listen_words({"--say"}), {.variables = {"PATH=/nowhere"}}), 2,
                   "--say: espeak-ng is not installed", "install it");
    }

    TEST_CASE("a file that must not be written over, or cannot be written, stops it before it begins") {
        const TempFolder folder;
        const VirtualMic mic{low_e};
        const Surroundings here{.variables = mic.variables()};
        const std::string there = folder.file("there.wav");
        std::ofstream{there} << "precious";
        check_told(run_program(listen_words({"--keep", there}), here), 2, there + ": exists already",
                   "another");
        const std::string nowhere = folder.file("none/kept.wav");
        check_told(run_program(listen_words({"--keep", nowhere}), here), 5, nowhere + ": cannot be written",
                   "another folder");
    }
}

}  // namespace midspan::test
