// measured_run_test.cpp: whole runs on sound whose truth is known: right moves, or a named reason.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>
#include <vector>

#include "program/command_line.hpp"
#include "program/run_program.hpp"
#include "program/shipped_text.hpp"
#include "support/disturbances.hpp"
#include "support/neck_string.hpp"
#include "support/sound_file.hpp"
#include "support/temp_folder.hpp"

namespace midspan::test {
namespace {

using namespace midspan::literals;
using Json = nlohmann::json;

constexpr Hertz rate{24000.0};

/// Takes one after the other, as on one recording.
std::vector<double> in_a_row(const std::vector<Take>& takes) {
    std::vector<double> sound;
    for (const Take& take : takes)
        sound.insert(sound.end(), take.samples.begin(), take.samples.end());
    return sound;
}

Take take(Hertz open, Cents error, int pairs = 3) {
    return take_of({open, 8e-5, error, {}}, {.sample_rate = rate, .pairs = pairs, .ring = 2.0_s, .seed = 7});
}

/// Plucks of one kind only.
std::vector<double> only(NoteKind kind, Hertz open, int plucks) {
    NeckString string{open, 8e-5, 3.0_cents, {}};
    string.manner.odd_partials = -30.0_db;  // of a harmonic; other strings ringing along lend less
    std::vector<double> sound(static_cast<std::size_t>((0.5 + 2.5 * plucks) * rate.value()));
    for (int i = 0; i < plucks; ++i) {
        PluckedString note = string.note(kind);
        note.duration = 2.2_s;
        note.seed = static_cast<std::uint64_t>(i + 1);
        add_pluck(sound, rate, Seconds{0.5 + 2.5 * i}, note);
    }
    add_white_noise(sound, 1e-4, 3);
    return sound;
}

std::string written(const TempFolder& folder, const std::string& name, const std::vector<double>& sound,
                    int format = SF_FORMAT_WAV | SF_FORMAT_PCM_24, Hertz sample_rate = rate) {
    const std::string path = folder.file(name);
    write_sound_file(path, floats(sound), {sample_rate, 1}, format);
    return path;
}

struct JsonRun {
    Run run;
    Json json;

    [[nodiscard]] const Json& string(int number) const {
        return *std::find_if(json["strings"].begin(), json["strings"].end(),
                             [number](const Json& s) { return s["string"] == number; });
    }
    /// Whether a string, a pluck or the whole carries the warning.
    [[nodiscard]] bool warns(const std::string& code) const {
        return std::any_of(json["warnings"].begin(), json["warnings"].end(),
                           [&code](const Json& w) { return w["code"] == code; });
    }
    /// Whether any saddle is told to move.
    [[nodiscard]] bool moves() const {
        return std::any_of(json["strings"].begin(), json["strings"].end(),
                           [](const Json& s) { return s["verdict"] == "move"; });
    }
};

JsonRun analyzed(std::vector<std::string> words) {
    words.insert(words.begin(), "analyze");
    words.insert(words.end(), {"--scale-length", "648", "--json"});
    Run run = run_program(words);
    CAPTURE(run.err);
    REQUIRE(!run.out.empty());
    Json json = Json::parse(run.out);
    CHECK(json["strings"].size() >= 1);
    return {std::move(run), std::move(json)};
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("errors come back as played, with the move that removes them") {
        const TempFolder folder;
        const std::vector<std::pair<int, Take>> played{{6, take(82.407_hz, 6.0_cents)},
                                                       {4, take(146.832_hz, -5.0_cents)},
                                                       {1, take(329.628_hz, 0.2_cents)}};
        std::vector<Take> takes;
        for (const auto& [number, one] : played)
            takes.push_back(one);
        const JsonRun result = analyzed({written(folder, "six.wav", in_a_row(takes)), "--thread", "M3"});
        CHECK(result.run.exit_code == 0);
        CHECK(result.run.err.empty());
        for (const auto& [number, one] : played) {
            const Json& string = result.string(number);
            CAPTURE(string);
            const double error = string["error_cents"];
            CHECK(std::abs(error - one.played_error().value()) <= 0.3);
            // One cent is L ln 2 / 1200 of saddle, and a turn of M3 is 0.5 mm.
            CHECK(std::abs(string["move_mm"].get<double>() - error * 648.0 * std::log(2.0) / 1200.0) <= 1e-9);
            CHECK(std::abs(string["turns"].get<double>() - string["move_mm"].get<double>() / 0.5) <= 1e-9);
            CHECK(string["harmonic"]["plucks"] == 3);
        }
        CHECK(result.string(6)["direction"] == "toward_tail");
        CHECK(result.string(4)["direction"] == "toward_nut");
        CHECK(result.string(1)["direction"] == "none");
        CHECK(result.string(1)["verdict"] == "in_tolerance");
        CHECK(result.string(2)["verdict"] == "measure_again");
        CHECK(result.string(2)["warnings"] == Json::array({"no_plucks"}));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a person reads the move, its direction and the cautions, in plain ASCII or with UTF-8") {
        const TempFolder folder;
        const std::string path = written(folder, "e.wav", take(82.407_hz, 6.0_cents).samples);
        const std::vector<std::string> words{"analyze", path, "--scale-length", "648"};
        const Run plain = run_program(words);
        CHECK(plain.exit_code == 0);
        CHECK(plain.err.empty());
        CHECK(plain.out.find("mm toward the tail") != std::string::npos);
        CHECK(plain.out.find("Slacken the string first") != std::string::npos);
        CHECK(std::all_of(plain.out.begin(), plain.out.end(),
                          [](char c) { return c == '\n' || (c >= ' ' && c <= '~'); }));
        const Run utf8 = run_program(words, {.variables = {"LANG=C.UTF-8"}});
        CHECK(utf8.out.find("±") != std::string::npos);
        CHECK(utf8.out.find('\x1b') == std::string::npos);
    }

    TEST_CASE("the result is the same from a file, from standard input and in another language") {
        const TempFolder folder;
        const std::string path = written(folder, "e.wav", take(82.407_hz, 6.0_cents).samples);
        const Run named = run_program({"analyze", path, "--scale-length", "648"});
        std::ifstream file{path, std::ios::binary};
        Surroundings piped;
        piped.in = {std::istreambuf_iterator<char>{file}, {}};
        piped.variables = {"LC_ALL=de_DE.ISO-8859-1"};
        const Run nameless = run_program({"analyze", "-", "--scale-length", "648"}, piped);
        CHECK(nameless.exit_code == 0);
        const auto behind_first_line = [](const std::string& text) { return text.substr(text.find('\n')); };
        CHECK(behind_first_line(nameless.out) == behind_first_line(named.out));
    }

    TEST_CASE("one recording a string gives what one recording of all gives, and is told which is which") {
        const TempFolder folder;
        const std::vector<Take> takes{take(82.407_hz, 6.0_cents), take(110.0_hz, -4.0_cents)};
        const JsonRun together = analyzed({written(folder, "both.wav", in_a_row(takes))});
        const JsonRun apart = analyzed({written(folder, "e.wav", takes[0].samples),
                                        written(folder, "a.wav", takes[1].samples), "--string", "6,5"});
        CHECK(apart.json["recordings"].size() == 2);
        for (const int number : {6, 5}) {
            const double difference = together.string(number)["error_cents"].get<double>() -
                                      apart.string(number)["error_cents"].get<double>();
            CHECK(std::abs(difference) <= 0.1);  // cents; noise and neighbours differ a little
        }
    }

    TEST_CASE("every example of the help works in a checkout, one after another") {
        const TempFolder folder;
        const std::string said = folder.file("said");
        // A shell takes the words apart as that of whoever types them does.
        const std::string before = in_a_checkout(folder) + "exec 2>&1 >'" + said + "' && ";
        for (const program::CommandDescription& command : program::commands()) {
            if (command.name == "listen" || command.name == "devices") continue;  // live tests do these
            for (const std::string& line : lines(std::string{command.examples})) {
                CAPTURE(line);
                CHECK(line.starts_with("  midspan "));
                CHECK(std::system((before + line).c_str()) == 0);
                if (line.find("--output") == std::string::npos) CHECK(std::filesystem::file_size(said) > 0);
            }
        }
    }

    TEST_CASE("plucks in groups are compared as groups, and never taken for plucks in turn") {
        const TempFolder folder;
        const Take grouped =
            take_of({110.0_hz, 8e-5, 6.0_cents, {.odd_partials = -30.0_db}},
                    {.sample_rate = rate, .order = PluckOrder::grouped, .ring = 2.0_s, .seed = 7});
        const std::string path = written(folder, "grouped.wav", grouped.samples);
        const JsonRun told = analyzed({path, "--plucks", "grouped"});
        CHECK(std::abs(told.string(5)["error_cents"].get<double>() - grouped.played_error().value()) <= 0.3);
        CHECK(told.string(5)["verdict"] == "move");
        const JsonRun untold = analyzed({path});
        CHECK(untold.string(5)["verdict"] == "measure_again");
        CHECK(untold.warns("order_contradicted"));
    }

    TEST_CASE("an instrument file gives turns, the way to turn and the travel that is left") {
        const TempFolder folder;
        const std::string path = written(folder, "a.wav", take(110.0_hz, 6.0_cents).samples);
        const auto with_travel = [&](const std::string& travel) {
            const std::string file = folder.file("bench.toml");
            std::ofstream{file} << "scale_length = 648\n[bridge]\nthread = \"M3\"\n"
                                   "clockwise = \"toward_nut\"\ntravel_toward_tail = " +
                                       travel + "\n";
            return run_program({"analyze", path, "--instrument", file}).out;
        };
        const std::string enough = with_travel("4.0");
        CHECK(enough.find(" turns counter-clockwise\n") != std::string::npos);
        CHECK(enough.find(" mm of travel left then\n") != std::string::npos);
        CHECK(enough.find("1/16 in") == std::string::npos);
        const std::string short_of_it = with_travel("1.0");
        CHECK(short_of_it.find(" mm more than its travel\n") != std::string::npos);
        CHECK(short_of_it.find("1/16 in") != std::string::npos);
    }

    TEST_CASE("8 kHz is enough for an ordinary string") {
        const TempFolder folder;
        const Take slow =
            take_of({146.832_hz, 8e-5, 6.0_cents, {}}, {.sample_rate = 8000.0_hz, .ring = 2.0_s, .seed = 7});
        const JsonRun result = analyzed(
            {written(folder, "slow.wav", slow.samples, SF_FORMAT_WAV | SF_FORMAT_PCM_16, 8000.0_hz)});
        CHECK(result.run.exit_code == 0);
        CHECK(std::abs(result.string(4)["error_cents"].get<double>() - slow.played_error().value()) <= 0.3);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("where nothing is to be measured the JSON is complete, the exit code 3 and the reason told") {
        const TempFolder folder;
        const auto seconds = [](double s) {
            return std::vector<double>(static_cast<std::size_t>(s * 24000));
        };
        std::vector<double> noise = seconds(4.0);
        add_white_noise(noise, 0.1, 1);
        std::vector<double> talk = seconds(6.0);
        add_talk(talk, rate, 0.3_s, 5.0_s, 0.3, 1);
        for (const auto& [name, sound] : {std::pair{"silence.wav", seconds(3.0)},
                                          std::pair{"noise.wav", noise}, std::pair{"talk.wav", talk}}) {
            const std::string path = written(folder, name, sound);
            CAPTURE(path);
            const JsonRun result = analyzed({path});
            CHECK(result.run.exit_code == 3);
            CHECK(result.run.err.starts_with("midspan: " + path + ": no usable note; "));
            CHECK(result.json["strings"].size() == 6);
            CHECK(!result.moves());
            CHECK(result.warns("no_plucks"));
        }
    }

    TEST_CASE("one pluck, only harmonics and only open strings move nothing and say what is missing") {
        const TempFolder folder;
        const JsonRun one = analyzed({written(folder, "one.wav", only(NoteKind::harmonic, 110.0_hz, 1))});
        CHECK(!one.moves());
        CHECK(one.string(5)["warnings"].size() >= 1);
        CHECK(one.string(5)["error_cents"].is_null());

        const JsonRun harmonics =
            analyzed({written(folder, "harmonics.wav", only(NoteKind::harmonic, 110.0_hz, 4))});
        CHECK(!harmonics.moves());
        CHECK(harmonics.string(5)["verdict"] == "measure_again");
        CHECK(harmonics.string(5)["warnings"].size() >= 1);

        const JsonRun open = analyzed({written(folder, "open.wav", only(NoteKind::open, 110.0_hz, 3))});
        CHECK(!open.moves());
        CHECK(open.string(5)["warnings"] == Json::array({"only_open"}));
        CHECK(open.string(5)["tuning"]["from"] == "open");
        CHECK(open.run.exit_code == 0);
    }

    TEST_CASE("the wrong tuning never ends in a move") {
        const TempFolder folder;
        const std::string path = written(folder, "e.wav", take(82.407_hz, 6.0_cents).samples);
        const JsonRun lower = analyzed({path, "--tuning", "D2,G2,C3,F3,A3,D4"});
        CHECK(!lower.moves());
        CHECK(!lower.json["warnings"].empty());
        const JsonRun bass = analyzed({path, "--tuning", "B0"});
        CHECK(!bass.moves());
        CHECK(!bass.json["warnings"].empty());
    }

    TEST_CASE("a string 1 Hz off its note is measured, and its tuning told") {
        const TempFolder folder;
        const JsonRun result = analyzed({written(folder, "e.wav", take(83.407_hz, 6.0_cents).samples)});
        CHECK(result.string(6)["verdict"] == "move");
        CHECK(std::abs(result.string(6)["tuning"]["off_cents"].get<double>() - 20.9) <= 0.5);
    }

    TEST_CASE("a string between two notes of the tuning moves no saddle and is named") {
        const TempFolder folder;
        const JsonRun result = analyzed({written(folder, "between.wav", take(134.6_hz, 6.0_cents).samples)});
        CHECK(!result.moves());
        CHECK((result.warns("unknown_note") || result.warns("out_of_tune")));
    }

    TEST_CASE("a take that was clipped says so") {
        const TempFolder folder;
        std::vector<double> sound = take(82.407_hz, 6.0_cents).samples;
        for (double& sample : sound)
            sample *= 6.0;
        clip(sound, 1.0);
        CHECK(analyzed({written(folder, "clipped.wav", sound)}).warns("clipped"));
    }

    TEST_CASE("a file cut in mid-sample is measured as far as it goes, and named") {
        const TempFolder folder;
        const std::string path = written(folder, "cut.wav", take(82.407_hz, 6.0_cents, 4).samples);
        std::filesystem::resize_file(path, std::filesystem::file_size(path) * 4 / 5 / 3 * 3 + 1);
        const JsonRun result = analyzed({path});
        CHECK(result.run.exit_code == 0);
        CHECK(result.warns("truncated"));
        const auto& warnings = result.json["warnings"];
        CHECK(std::any_of(warnings.begin(), warnings.end(),
                          [](const Json& w) { return w["code"] == "truncated" && w["recording"] == 0; }));
        CHECK(result.string(6)["harmonic"]["plucks"].get<int>() >= 3);
    }

    TEST_CASE("NaN and infinity in a float file are named and poison nothing") {
        const TempFolder folder;
        std::vector<double> sound = take(82.407_hz, 6.0_cents, 4).samples;
        sound[30000] = std::numeric_limits<double>::quiet_NaN();
        sound[30001] = std::numeric_limits<double>::infinity();
        const JsonRun result =
            analyzed({written(folder, "holes.wav", sound, SF_FORMAT_WAV | SF_FORMAT_FLOAT)});
        CHECK(result.warns("not_finite"));
        CHECK(result.run.out.find("nan") == std::string::npos);
    }
}

}  // namespace midspan::test
