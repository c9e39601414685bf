// live_listen_test.cpp: whole live runs, with a sound file in place of the microphone.
#include <doctest/doctest.h>
#include <signal.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <string>
#include <thread>
#include <vector>

#include "midspan/sound/recording.hpp"
#include "program/run_program.hpp"
#include "program/running_program.hpp"
#include "support/sound_file.hpp"
#include "support/temp_folder.hpp"
#include "support/virtual_mic/virtual_mic.hpp"

namespace midspan::test {
namespace {

using Json = nlohmann::json;
using namespace std::chrono_literals;

const std::string take = MIDSPAN_TEST_AUDIO "/low-e.flac";

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
Run listen_to_all(const VirtualMic& mic, const std::vector<std::string>& words) {
    RunningProgram program{words, mic.variables()};
    CHECK(program.wait_until([&] { return mic.played(); }));
    std::this_thread::sleep_for(100ms);  // what was read last is on its way through the callback
    program.send(SIGINT);
    return program.end();
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("live, and from a file: the same sound gives the same result to the last digit") {
        const TempFolder folder;
        const std::string kept = folder.file("kept.wav");
        const VirtualMic mic{take};
        const Run run = listen_to_all(mic, listen_words({"--json", "--keep", kept}));
        CHECK(run.exit_code == 0);
        CHECK(run.err.empty());
        const Json live = analysis_of(run.out);
        CHECK(live["strings"][0]["verdict"] == "move");
        CHECK(heard_in(live) == heard_in(analysed(take)));
        CHECK(heard_in(live) == heard_in(analysed(kept)));
    }

    TEST_CASE("what is kept as FLAC gives the result of the live run, too") {
        const TempFolder folder;
        const std::string kept = folder.file("kept.flac");
        const VirtualMic mic{take};
        const Run run = listen_to_all(mic, listen_words({"--json", "--keep", kept}));
        CHECK(run.exit_code == 0);
        CHECK(heard_in(analysis_of(run.out)) == heard_in(analysed(kept)));
    }
}

}  // namespace midspan::test
