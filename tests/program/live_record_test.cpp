// live_record_test.cpp: what is heard live arrives in the record, and the next session starts from it.
#include <doctest/doctest.h>
#include <signal.h>

#include <chrono>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <thread>
#include <vector>

#include "program/run_program.hpp"
#include "program/running_program.hpp"
#include "support/by_python.hpp"
#include "support/neck_string.hpp"
#include "support/sound_file.hpp"
#include "support/temp_folder.hpp"
#include "support/virtual_mic/virtual_mic.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

using Json = nlohmann::json;

/// A guitar with an open visit, and a microphone to play at.
class LiveBench {
public:
    LiveBench() {
        CHECK(run({"instrument", "add", "Guitar", "--scale-length", "648", "--thread", "0.5"}).exit_code ==
              0);
        CHECK(run({"visit", "begin", "--instrument", "Guitar"}).exit_code == 0);
    }
    [[nodiscard]] Run run(const std::vector<std::string>& words) const {
        return run_program(words, {.variables = {"MIDSPAN_RECORD=" + folder_.file("record.sqlite")}});
    }
    [[nodiscard]] Json said(std::vector<std::string> words) const {
        words.emplace_back("--json");
        return Json::parse(run(words).out);
    }
    /// All lines of JSON of a session with that sound.
    [[nodiscard]] std::vector<Json> listen(const std::string& sound) const {
        // At 48 kHz there is twice as much to do.
        const VirtualMic mic{sound, {.speed = 0.5 * quick}};
        std::vector<std::string> variables = mic.variables();
        variables.push_back("MIDSPAN_RECORD=" + folder_.file("record.sqlite"));
        RunningProgram program{{"listen", "--instrument", "Guitar", "--json"}, variables};
        CHECK(program.wait_until([&] { return mic.played(); }));
        std::this_thread::sleep_for(std::chrono::milliseconds{200});
        program.send(SIGINT);
        const Run done = program.end();
        CHECK(done.exit_code == 0);
        CHECK(done.err == last_notice_);
        std::vector<Json> lines;
        std::istringstream out{done.out};
        for (std::string line; std::getline(out, line);)
            lines.push_back(Json::parse(line));
        return lines;
    }
    void expect_notice(std::string notice) { last_notice_ = std::move(notice); }
    [[nodiscard]] Json visit() const {
        return said({"visit", "show", "--instrument", "Guitar"})["instruments"][0]["visits"][0];
    }
    [[nodiscard]] Json screws() const {
        return said({"instrument", "show", "Guitar"})["instruments"][0]["screws"];
    }
    [[nodiscard]] std::string file(const std::string& name) const { return folder_.file(name); }

private:
    TempFolder folder_;
    std::string last_notice_;
};

NeckString string_5(Cents error) {
    NeckString string;
    string.error = error;
    string.manner.glide = 4.0_cents;
    string.manner.decay = 0.9_s;
    return string;
}

void put_behind(std::vector<float>& sound, Cents error, std::uint64_t seed) {
    TakeOptions two_pairs;
    two_pairs.pairs = 2;
    two_pairs.ring = 2.4_s;
    two_pairs.seed = seed;
    const std::vector<float> more = floats(take_of(string_5(error), two_pairs).samples);
    sound.insert(sound.end(), more.begin(), more.end());
}

/// Two pairs at each error; in between a screw is turned for eleven seconds.
std::string rounds(const LiveBench& bench, const std::string& name, const std::vector<Cents>& errors) {
    std::vector<float> sound;
    for (std::size_t i = 0; i < errors.size(); ++i) {
        if (i > 0) sound.resize(sound.size() + 11 * 48'000);
        put_behind(sound, errors[i], i + 1);
    }
    const std::string path = bench.file(name);
    write_sound_file(path, sound, {Hertz{48'000.0}, 1});
    return path;
}

/// Of an analysis, where the lowest string comes first.
Json string_of(const Json& analysis, int string) {
    for (const Json& each : analysis["strings"]) {
        if (each["string"] == string) return each;
    }
    return {};
}

const Json& string_in(const Json& reading, int string) {
    return reading["analysis"]["strings"][static_cast<std::size_t>(string - 1)];
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("a live reading is in the record with all that the analysis said") {
        const LiveBench bench;
        const Json live = bench.listen(MIDSPAN_TEST_AUDIO "/low-e.flac").back();
        REQUIRE(live["schema"] == "midspan/analysis/1");
        const Json visit = bench.visit();
        REQUIRE(visit["readings"].size() == 1);
        CHECK(visit["readings"][0]["source"] == "listen");
        const Json recorded = visit["readings"][0]["analysis"];
        REQUIRE(recorded["plucks"].size() == live["plucks"].size());
        REQUIRE(live["plucks"].size() >= 6);
        for (std::size_t i = 0; i < live["plucks"].size(); ++i) {
            const Json& heard = live["plucks"][i];
            const Json& kept = recorded["plucks"][i];
            for (const char* key : {"at_s", "string", "kind", "used", "level_dbfs", "warnings"})
                CHECK(kept[key] == heard[key]);
            REQUIRE(kept["reading"].is_null() == heard["frequency_hz"].is_null());
            if (kept["reading"].is_null()) continue;
            for (const char* key : {"frequency_hz", "uncertainty_cents", "inharmonicity", "glide_cents"})
                CHECK(kept["reading"][key] == heard[key]);
        }
        const Json told = string_of(live, 6);
        const Json& kept = recorded["strings"][5];
        CHECK(kept["comparison"]["error_cents"] == told["error_cents"]);
        CHECK(kept["comparison"]["uncertainty_cents"] == told["uncertainty_cents"]);
        CHECK(kept["move"]["toward_tail_mm"] == told["move_mm"]);
        for (const char* key : {"turns", "turns_uncertainty", "inharmonicity", "verdict", "warnings"})
            CHECK(kept[key] == told[key]);
        REQUIRE(recorded["warnings"].size() == live["warnings"].size());
        for (std::size_t i = 0; i < live["warnings"].size(); ++i)
            CHECK(recorded["warnings"][i] == live["warnings"][i]);
    }

    TEST_CASE("rounds are readings with the move between them, and what the screw did is used next time") {
        LiveBench bench;
        // The screw does 8 % more than its thread says.
        const double by_thread = 0.5 * 1731.234 / 648.0;
        const double advised = 9.0 / by_thread;
        const Cents left{9.0 - 1.08 * by_thread * advised};
        const std::string sound = rounds(bench, "two-rounds.wav", {9.0_cents, left});
        const std::vector<Json> told = bench.listen(sound);
        std::string events;
        for (std::size_t i = 0; i + 1 < told.size(); ++i)
            events += told[i].dump() + '\n';
        CHECK(events.find("\"screw\"") != std::string::npos);
        CHECK(against_schema("event-1", events) == "");
        const Json& live = told.back();
        CHECK(against_schema("analysis-1", live.dump()) == "");
        const Json visit = bench.visit();
        REQUIRE(visit["readings"].size() == 2);
        CHECK(within(Cents{string_in(visit["readings"][0], 5)["comparison"]["error_cents"]}, 9.0_cents,
                     0.2_cents));
        CHECK(
            within(Cents{string_in(visit["readings"][1], 5)["comparison"]["error_cents"]}, left, 0.2_cents));
        CHECK(string_in(visit["readings"][1], 5)["comparison"]["error_cents"] ==
              string_of(live, 5)["error_cents"]);
        REQUIRE(visit["moves"].size() == 1);
        CHECK(visit["moves"][0]["string"] == 5);
        CHECK(visit["moves"][0]["note"] == "as advised");
        CHECK(visit["moves"][0]["turns"] == string_in(visit["readings"][0], 5)["turns"]);
        const Json screws = bench.screws();
        REQUIRE(screws.size() == 1);
        CHECK(screws[0]["string"] == 5);
        CHECK(screws[0]["moves"] == 1);
        const double k = screws[0]["cents_per_turn"];
        CHECK(k > 1.02 * by_thread);
        CHECK(k < 1.08 * by_thread);

        // Files and the next session begin there.
        const Json again = string_of(bench.said({"analyze", rounds(bench, "later.wav", {5.0_cents}),
                                                 "--instrument", "Guitar", "--no-record"}),
                                     5);
        CHECK(again["turns_from"] == "moves");
        CHECK(within(Turns{again["turns"]}, Turns{again["error_cents"].get<double>() / k}, 1e-9_turns));
        CHECK(again["turns_uncertainty"].get<double>() > 0.0);
        bool from_moves = false;
        for (const Json& line : bench.listen(bench.file("later.wav"))) {
            if (line.value("event", "") == "result") from_moves = line["turns_from"] == "moves";
        }
        CHECK(from_moves);
        CHECK(bench.screws()[0]["moves"] == 1);  // nothing was moved
    }

    TEST_CASE("a round that has only begun when the session ends leaves the one before in the record") {
        const LiveBench bench;
        std::vector<float> sound;
        put_behind(sound, 9.0_cents, 1);
        sound.resize(sound.size() + 11 * 48'000);
        const std::size_t whole = sound.size();
        put_behind(sound, 1.0_cents, 2);
        sound.resize(whole + 3 * 48'000);  // the harmonic alone
        const std::string path = bench.file("begun.wav");
        write_sound_file(path, sound, {Hertz{48'000.0}, 1});
        (void)bench.listen(path);
        const Json visit = bench.visit();
        REQUIRE(visit["readings"].size() == 1);
        CHECK(within(Cents{string_in(visit["readings"][0], 5)["comparison"]["error_cents"]}, 9.0_cents,
                     0.2_cents));
        REQUIRE(visit["moves"].size() == 1);
        CHECK(visit["moves"][0]["note"] == "as advised; not measured after it");
    }

    TEST_CASE("without an open visit a live session for programs says on stderr that it is not recorded") {
        LiveBench bench;
        CHECK(bench.run({"visit", "end"}).exit_code == 0);
        bench.expect_notice(
            "midspan: not recorded: no visit of 'Guitar' is open; midspan visit begin begins one\n");
        CHECK(bench.listen(MIDSPAN_TEST_AUDIO "/low-e.flac").back()["schema"] == "midspan/analysis/1");
        CHECK(bench.visit()["readings"].empty());
    }
}

}  // namespace midspan::test
