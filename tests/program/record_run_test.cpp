// record_run_test.cpp: a visit as a technician has it, from adding the guitar to comparing.
#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Transaction.h>
#include <doctest/doctest.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "program/check_refused.hpp"
#include "program/run_program.hpp"
#include "support/temp_folder.hpp"

namespace midspan::test {
namespace {

/// A bench with a record of its own.
class Bench {
public:
    Bench() { surroundings_.variables.push_back("MIDSPAN_RECORD=" + record()); }

    [[nodiscard]] std::string record() const { return folder_.file("record.sqlite"); }
    [[nodiscard]] std::string file(const std::string& name) const { return folder_.file(name); }
    [[nodiscard]] Run run(const std::vector<std::string>& words) const {
        return run_program(words, surroundings_);
    }

    /// What has to go well: its stdout.
    [[nodiscard]] std::string said(const std::vector<std::string>& words) const {
        const Run done = run(words);
        CAPTURE(words.front());
        CHECK(done.exit_code == 0);
        CHECK(done.err == "");
        return done.out;
    }

private:
    TempFolder folder_;
    Surroundings surroundings_;
};

const std::string recording = MIDSPAN_TEST_AUDIO "/low-e.flac";

std::string with_guitar(const Bench& bench) {
    return bench.said({"instrument", "add", "Bench guitar", "--scale-length", "648", "--thread", "0.5"});
}

void check_holds(const std::string& text, const std::string& what) {
    CAPTURE(text);
    CAPTURE(what);
    CHECK(text.find(what) != std::string::npos);
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("a visit from the guitar's arrival to its comparison, in the words of the command line") {
        const Bench bench;
        CHECK(with_guitar(bench) == "Added 'Bench guitar'.\n");
        CHECK(bench.said({"visit", "begin", "--instrument", "Bench guitar", "--who", "Ada", "--temperature",
                          "21.5", "--strings", "10-46", "--gauges", "10,13,17,26w,36w,46w"}) ==
              "Began visit 1 of 'Bench guitar'.\n");
        CHECK(bench.said({"measure", "relief", "0.010in", "--held", "1,last", "--read-at", "7"}) ==
              "Recorded relief 0.25 mm (0.010 in), held at fret 1 and the last, read at fret 7 in visit 1 of "
              "'Bench guitar'.\n");
        check_holds(bench.said({"analyze", recording, "--instrument", "Bench guitar"}),
                    "\nRecorded in visit 1 of 'Bench guitar'.\n");
        CHECK(bench.said({"visit", "moved", "6", "--toward", "tail", "--turns", "1 1/4"}) ==
              "Recorded in visit 1 of 'Bench guitar'.\n");
        check_holds(bench.said({"analyze", recording, "--instrument", "Bench guitar"}), "Recorded");
        (void)bench.said({"measure", "relief", "0.2", "--held", "1,last", "--read-at", "7"});

        const std::string shown = bench.said({"visit", "show"});
        check_holds(shown, "Bench guitar, visit 1 on ");
        check_holds(shown, "Ada");
        check_holds(shown, "21.5 degrees C");
        check_holds(shown, "0.25 mm (0.010 in)");
        check_holds(shown, "held at fret 1 and the last, read at fret 7");
        check_holds(shown, "0.63 mm");  // 1 1/4 turns of 0.5 mm
        check_holds(shown, "+1.25");
        check_holds(shown, "6 E2");

        const std::string compared = bench.said({"compare"});
        check_holds(compared, "as received");
        check_holds(compared, "0.20 mm (0.008 in)");
        check_holds(compared, "6 E2");

        CHECK(bench.said({"visit", "end", "--done", "saddle moved"}) == "Ended visit 1 of 'Bench guitar'.\n");
        check_holds(bench.said({"instrument", "list"}), "Bench guitar");
        check_holds(bench.said({"visit", "list", "--instrument", "Bench guitar"}), "saddle moved");
        check_holds(bench.said({"instrument", "show", "Bench guitar", "--units", "inch"}), "0.0460 in wound");
    }

    TEST_CASE("two visits stand beside each other, and a string has its history") {
        const Bench bench;
        (void)with_guitar(bench);
        for (const char* relief : {"0.012in", "0.008in"}) {
            (void)bench.said({"visit", "begin", "--instrument", "Bench guitar"});
            (void)bench.said({"measure", "relief", relief});
            (void)bench.said({"analyze", recording, "--instrument", "Bench guitar"});
            (void)bench.said({"visit", "end"});
        }
        const std::string compared =
            bench.said({"compare", "--instrument", "Bench guitar", "--visits", "1,2", "--units", "inch"});
        check_holds(compared, "0.012 in (0.30 mm)");
        check_holds(compared, "0.008 in (0.20 mm)");
        check_holds(compared, "  0.0");  // the same recording both times
        const auto history = nlohmann::json::parse(
            bench.said({"history", "--instrument", "Bench guitar", "--string", "6", "--json"}));
        CHECK(history["schema"] == "midspan/history/1");
        REQUIRE(history["readings"].size() == 2);
        CHECK(history["readings"][0]["visit"] == 1);
        CHECK(history["readings"][1]["visit"] == 2);
        CHECK(history["readings"][0]["error_cents"] == history["readings"][1]["error_cents"]);
        check_holds(bench.said({"history", "--instrument", "Bench guitar", "--string", "6"}), "E2");
        const auto shown = nlohmann::json::parse(
            bench.said({"visit", "show", "--instrument", "Bench guitar", "--visit", "1", "--json"}));
        CHECK(shown["schema"] == "midspan/record/1");
    }

    TEST_CASE("analyze writes nothing to the record with --no-record, nor where no visit is open") {
        const Bench bench;
        (void)with_guitar(bench);
        check_holds(bench.said({"analyze", recording, "--instrument", "Bench guitar"}),
                    "Not recorded: no visit of 'Bench guitar' is open");
        (void)bench.said({"visit", "begin", "--instrument", "Bench guitar"});
        const std::string left_alone =
            bench.said({"analyze", recording, "--instrument", "Bench guitar", "--no-record"});
        CHECK(left_alone.find("ecorded") == std::string::npos);
        CHECK(bench.said({"history", "--instrument", "Bench guitar", "--string", "6"}) ==
              "This string was never read.\n");
        // JSON stays the one object it was, whether it is recorded or not.
        CHECK(nlohmann::json::parse(
                  bench.said({"analyze", recording, "--instrument", "Bench guitar", "--json"}))
                  .at("schema") == "midspan/analysis/1");
        check_holds(bench.said({"history", "--instrument", "Bench guitar", "--string", "6"}), "E2");
        (void)bench.said({"visit", "end"});
        const Run unwritten = bench.run({"analyze", recording, "--instrument", "Bench guitar", "--json"});
        CHECK(unwritten.exit_code == 0);
        CHECK(nlohmann::json::parse(unwritten.out).at("schema") == "midspan/analysis/1");
        CHECK(unwritten.err ==
              "midspan: not recorded: no visit of 'Bench guitar' is open; midspan visit begin begins one\n");
    }

    TEST_CASE(
        "a string's second move in a visit is recorded with a word about the first, which counts as well") {
        const Bench bench;
        (void)with_guitar(bench);
        (void)bench.said({"visit", "begin", "--instrument", "Bench guitar"});
        const auto moved = [&bench](const char* string) {
            return bench.said(
                {"visit", "moved", string, "--toward", "tail", "--turns", "1", "--note", "by ear"});
        };
        CHECK(moved("6") == "Recorded in visit 1 of 'Bench guitar'.\n");
        CHECK(moved("5") == "Recorded in visit 1 of 'Bench guitar'.\n");
        const std::string again = moved("6");
        check_holds(again,
                    "Recorded in visit 1 of 'Bench guitar'.\nAll moves of a visit count together. "
                    "String 6 has moved in this one before: move 1 at ");
        check_holds(again,
                    " UTC, by ear.\nIf it is the same move, take this one back: "
                    "midspan visit remove move 3\n");
        (void)bench.said({"visit", "remove", "move", "1", "--yes"});
        (void)bench.said({"visit", "remove", "move", "3", "--yes"});
        CHECK(moved("6") == "Recorded in visit 1 of 'Bench guitar'.\n");
        // A saddle that was seen to stick has not moved.
        (void)bench.said({"visit", "moved", "4", "--toward", "tail", "--by", "0"});
        CHECK(moved("4") == "Recorded in visit 1 of 'Bench guitar'.\n");
    }

    TEST_CASE("a mistake is asked about, taken out of a visit, counts nowhere, and comes back") {
        const Bench bench;
        (void)with_guitar(bench);
        (void)bench.said({"visit", "begin", "--instrument", "Bench guitar"});
        (void)bench.said({"measure", "relief", "0.010in"});
        (void)bench.said({"measure", "relief", "0.020in"});
        (void)bench.said({"visit", "moved", "6", "--toward", "tail", "--turns", "2"});
        (void)bench.said({"analyze", recording, "--instrument", "Bench guitar"});
        check_refused(
            bench.run({"visit", "remove", "measurement", "2"}), 2,
            "measurement 2: relief 0.51 mm (0.020 in), to be taken out of visit 1 of 'Bench guitar'; ");
        CHECK(
            bench.said({"visit", "remove", "measurement", "2", "--yes"}) ==
            "Removed measurement 2, relief 0.51 mm (0.020 in), from visit 1 of 'Bench guitar'; midspan visit "
            "restore brings it back.\n");
        check_holds(bench.said({"visit", "remove", "move", "1", "--yes"}), "of the saddle of string 6");
        check_holds(bench.said({"visit", "remove", "reading", "1", "--yes"}), "of 1 string");
        const std::string shown = bench.said({"visit", "show"});
        CHECK(shown.find("0.51") == std::string::npos);
        CHECK(shown.find("Saddles moved") == std::string::npos);
        CHECK(shown.find("6 E2") == std::string::npos);
        check_holds(shown, "Removed: measurement 2, reading 1, move 1; midspan visit restore brings back.");
        CHECK(bench.said({"compare"}).find("0.51") == std::string::npos);
        CHECK(bench.said({"sheet"}).find("0.51") == std::string::npos);
        CHECK(bench.said({"export", "--csv", "measurements"}).find("0.020in") == std::string::npos);
        CHECK(bench.said({"history", "--instrument", "Bench guitar", "--string", "6"}) ==
              "This string was never read.\n");
        // Nothing is lost, and numbers stay.
        check_holds(bench.said({"export"}), "0.020in");
        (void)bench.said({"measure", "relief", "0.015in"});
        check_refused(bench.run({"visit", "remove", "measurement", "2", "--yes"}), 2,
                      "measurement 2: is removed already; ");
        check_refused(bench.run({"visit", "restore", "measurement", "3"}), 2,
                      "measurement 3: was not removed; ");
        check_refused(bench.run({"visit", "remove", "reading", "2"}), 2,
                      "reading 2: visit 1 of 'Bench guitar' has none of that number; ");
        check_refused(bench.run({"visit", "remove", "saddle", "2"}), 2, "visit remove: what of it?; ");
        CHECK(bench.said({"visit", "restore", "measurement", "2"}) ==
              "Restored measurement 2 to visit 1 of 'Bench guitar'.\n");
        (void)bench.said({"visit", "restore", "move", "1"});
        (void)bench.said({"visit", "restore", "reading", "1"});
        const std::string again = bench.said({"visit", "show"});
        for (const char* what : {"0.51 mm", "0.38 mm", "+2.00", "6 E2"})
            check_holds(again, what);
        CHECK(again.find("Removed") == std::string::npos);
    }

    TEST_CASE("without --instrument nothing touches a record, and none is made") {
        const Bench bench;
        (void)bench.said({"analyze", recording, "--scale-length", "648"});
        CHECK(bench.said({"instrument", "list", "--names"}).empty());
        CHECK(!std::filesystem::exists(bench.record()));
    }

    TEST_CASE("a TOML file still describes the instrument, for analyze and for the record") {
        const Bench bench;
        std::ofstream{bench.file("bench.toml")}
            << "name = \"From a file\"\nscale_length = 648\nleft_handed = true\n";
        const std::string text = bench.said({"analyze", recording, "--instrument", bench.file("bench.toml")});
        CHECK(text.find("ecorded") == std::string::npos);
        CHECK(bench.said({"instrument", "add", "--file", bench.file("bench.toml"), "--kind", "acoustic"}) ==
              "Added 'From a file'.\n");
        check_holds(bench.said({"instrument", "show", "From a file"}), "acoustic, left-handed");
        CHECK(bench.said({"instrument", "list", "--names"}) == "From a file\n");
    }

    TEST_CASE(
        "predict takes strings and heights of an instrument from its record, and writes nothing there") {
        const Bench bench;
        (void)with_guitar(bench);
        check_refused(bench.run({"predict", "--instrument", "Bench guitar"}), 2,
                      "predict: the record does not say the gauge of every string");
        (void)bench.said(
            {"visit", "begin", "--instrument", "Bench guitar", "--gauges", "10,13,17,26w,36w,46w"});
        (void)bench.said({"measure", "action", "2.2", "--read-at", "12"});
        (void)bench.said({"measure", "relief", "0.3"});
        const std::string before = bench.said({"visit", "show"});
        const auto told = nlohmann::json::parse(bench.said(
            {"predict", "--instrument", "Bench guitar", "--to-gauges", "11,14,18,28w,38w,49w", "--json"}));
        CHECK(told["before"]["action_mm"] == doctest::Approx(2.2));
        CHECK(told["before"]["relief_mm"] == doctest::Approx(0.3));
        CHECK(told["before"]["strings"][0]["gauge_mm"] == doctest::Approx(0.254));
        CHECK(told["after"]["strings"][5]["gauge_mm"] == doctest::Approx(0.049 * 25.4));
        // What is said goes before what is recorded.
        const auto said = nlohmann::json::parse(
            bench.said({"predict", "--instrument", "Bench guitar", "--action", "1.5", "--json"}));
        CHECK(said["before"]["action_mm"] == 1.5);
        CHECK(bench.said({"visit", "show"}) == before);
    }

    TEST_CASE("a deleted instrument is asked about, can be seen and comes back") {
        const Bench bench;
        (void)with_guitar(bench);
        check_refused(bench.run({"instrument", "delete", "Bench guitar"}), 2,
                      "'Bench guitar': to be deleted, with 0 visits; check it; if it is meant so, add --yes");
        check_holds(bench.said({"instrument", "delete", "Bench guitar", "--yes"}), "instrument restore");
        CHECK(bench.said({"instrument", "list"}) ==
              "No instrument is in the record; midspan instrument add adds one.\n");
        check_holds(bench.said({"instrument", "list", "--deleted"}), "Bench guitar");
        (void)bench.said({"instrument", "restore", "Bench guitar"});
        (void)bench.said({"instrument", "change", "Bench guitar", "--name", "Stage guitar", "--frets", "22"});
        CHECK(bench.said({"instrument", "list", "--names"}) == "Stage guitar\n");
    }

    TEST_CASE("bash completes commands of two words and the names of instruments, ready to be typed") {
        const Bench bench;
        (void)with_guitar(bench);
        const auto completed = [&](const std::string& typed) {
            const std::string script = bench.file("script");
            std::ofstream{script} << "export MIDSPAN_RECORD='" << bench.record() << "'\n"
                                  << "midspan() { '" << MIDSPAN_PROGRAM << "' \"$@\"; }\n"
                                  << "source '" << MIDSPAN_SOURCE << "/tools/completions/midspan.bash'\n"
                                  << "COMP_WORDS=(" << typed << "); COMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n"
                                  << "_midspan\nprintf '%s|' \"${COMPREPLY[@]}\"\n";
            const std::string said = bench.file("said");
            CHECK(std::system(("bash '" + script + "' >'" + said + "' 2>&1").c_str()) == 0);
            std::ifstream file{said};
            return std::string{std::istreambuf_iterator<char>{file}, {}};
        };
        CHECK(completed("midspan vis") == "visit|");
        CHECK(completed("midspan visit mo") == "moved|");
        CHECK(completed("midspan analyze --instrument Be") == "Bench\\ guitar|");
        CHECK(completed("midspan analyze --instrument \\'Ben") == "Bench\\ guitar|");
        CHECK(completed("midspan instrument show ''") == "Bench\\ guitar|");
        CHECK(completed("midspan instrument add --kind ba") == "bass|");
        CHECK(completed("midspan visit show --instrument X") == "|");
    }

    TEST_CASE("--record names another record than the environment does") {
        const Bench bench;
        (void)bench.said(
            {"instrument", "add", "Other", "--scale-length", "648", "--record", bench.file("other")});
        CHECK(!std::filesystem::exists(bench.record()));
        CHECK(bench.said({"instrument", "list", "--names", "--record", bench.file("other")}) == "Other\n");
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("a slipped decimal is refused where nobody can be asked, and recorded with --yes") {
        const Bench bench;
        (void)with_guitar(bench);
        (void)bench.said({"visit", "begin", "--instrument", "Bench guitar"});
        CHECK(bench.run({"measure", "relief", "0.05in"}).err ==
              "midspan: relief 0.05in: usual is 0.002 to 0.020 in; check it; if it is meant so, add --yes\n");
        check_refused(bench.run({"measure", "relief", "0.05in"}), 2, "relief 0.05in: ");
        check_holds(bench.said({"measure", "relief", "0.05in", "--yes"}), "1.27 mm (0.050 in)");
    }

    TEST_CASE("a record that fails ends with 5, and what was measured is told all the same") {
        const Bench bench;
        (void)with_guitar(bench);
        (void)bench.said({"visit", "begin", "--instrument", "Bench guitar"});
        const std::string table =
            bench.said({"analyze", recording, "--scale-length", "648", "--thread", "0.5"});
        // Readings have nowhere to go: sqlite's own tool takes their table away.
        const std::string drop = "sqlite3 '" + bench.record() + "' 'DROP TABLE reading'";
        if (std::system(drop.c_str()) != 0) return;
        const Run run = bench.run({"analyze", recording, "--instrument", "Bench guitar"});
        CHECK(run.exit_code == 5);
        CHECK(run.out == table);
        CHECK(run.err.starts_with("midspan: " + bench.record() + ": "));
    }

    TEST_CASE("a record that is none, and no place for one, end with 5 and the remedy") {
        const Bench bench;
        std::ofstream{bench.record()} << "shopping list, long enough to be looked at by whoever opens it";
        check_refused(bench.run({"instrument", "list"}), 5, bench.record() + ": is no setup record; ");
        check_refused(bench.run({"analyze", recording, "--instrument", "Bench guitar"}), 5, bench.record());
        check_refused(run_program({"instrument", "list"}), 5, "the setup record: there is no home folder");
    }

    TEST_CASE(
        "a record that is newer, locked, damaged or only to be read ends with 5, its name and the remedy") {
        const Bench bench;
        (void)with_guitar(bench);
        (void)bench.said({"visit", "begin", "--instrument", "Bench guitar"});
        const std::vector<std::string> write{"measure", "relief", "0.25"};
        {
            SQLite::Database other{bench.record(), SQLite::OPEN_READWRITE};
            const SQLite::Transaction writing{other, SQLite::TransactionBehavior::IMMEDIATE};
            const Run run = bench.run(write);
            check_refused(run, 5, bench.record() + ": another program is writing to it and does not end; ");
            check_holds(run.err, "wait for it or end it");
        }
        if (geteuid() == 0) {  // who may write anything becomes somebody who may not
            std::filesystem::permissions(bench.file(""), std::filesystem::perms{0755});
            std::filesystem::permissions(bench.record(), std::filesystem::perms{0444});
            const std::string told = bench.file("told");
            const int status =
                std::system(("setpriv --reuid 65534 --clear-groups env MIDSPAN_RECORD='" + bench.record() +
                             "' '" MIDSPAN_PROGRAM "' measure relief 0.25 2>'" + told + "'")
                                .c_str());
            constexpr int cannot_be_run = 126;  // a checkout that nobody else may enter
            if (WEXITSTATUS(status) >= cannot_be_run) {
                MESSAGE("skipped: nobody else can run " MIDSPAN_PROGRAM);
            } else {
                CHECK(WEXITSTATUS(status) == 5);
                std::ifstream file{told};
                const std::string err{std::istreambuf_iterator<char>{file}, {}};
                check_holds(err,
                            "midspan: " + bench.record() + ": cannot be written, only read; make the file");
            }
            std::filesystem::permissions(bench.record(), std::filesystem::perms{0644});
        }
        (void)bench.said(write);
        const auto said_of = [&](int version) {
            SQLite::Database{bench.record(), SQLite::OPEN_READWRITE}.exec("PRAGMA user_version = " +
                                                                          std::to_string(version));
        };
        const int today = SQLite::Database{bench.record()}.execAndGet("PRAGMA user_version").getInt();
        said_of(99);
        check_refused(
            bench.run({"instrument", "list"}), 5,
            bench.record() + ": was written by a newer midspan (version 99 of the record); use that");
        said_of(today);
        (void)bench.said({"instrument", "list"});
        // All but the first page, which tells that it is a record.
        const auto size = std::filesystem::file_size(bench.record());
        {
            std::fstream file{bench.record(), std::ios::in | std::ios::out | std::ios::binary};
            file.seekp(4096);
            file << std::string(static_cast<std::size_t>(size) - 4096, '\xa5');
        }
        const Run damaged = bench.run({"visit", "show"});
        check_refused(damaged, 5, bench.record() + ": is damaged; ");
        check_holds(damaged.err, ".dump");
    }

    TEST_CASE("what makes no sense of a visit or a measurement ends with 2") {
        const Bench bench;
        check_refused(bench.run({"instrument", "add", "X"}), 2, "instrument add: no scale length; ");
        check_refused(bench.run({"instrument", "add", "--scale-length", "648"}), 2,
                      "instrument add: no name; ");
        check_refused(bench.run({"instrument"}), 2,
                      "instrument: what of it?; say instrument and one of add, ");
        check_refused(bench.run({"instrument", "sell"}), 2, "instrument: no such command sell; ");
        (void)with_guitar(bench);
        check_refused(bench.run({"instrument", "add", "Bench guitar", "--scale-length", "648"}), 2, "");
        check_refused(bench.run({"measure", "relief", "0.010in"}), 2, "visit: none is open; ");
        check_refused(bench.run({"visit", "begin", "--instrument", "Other"}), 2, "");
        (void)bench.said({"visit", "begin", "--instrument", "Bench guitar"});
        check_refused(bench.run({"visit", "begin", "--instrument", "Bench guitar"}), 2, "");
        check_refused(bench.run({"measure", "weight", "1"}), 2, "weight: is not measured here; ");
        check_refused(bench.run({"measure", "relief"}), 2, "measure: not one thing and its value; ");
        check_refused(bench.run({"measure", "action", "1.6", "--string", "7"}), 2,
                      "string 7: no such string; ");
        check_refused(bench.run({"measure", "action", "ten"}), 2, "length ");
        check_refused(bench.run({"visit", "moved", "6", "--turns", "1"}), 2, "visit moved: which way?; ");
        check_refused(bench.run({"visit", "note", "--day", "yesterday"}), 2, "day ");
        check_refused(bench.run({"instrument", "change", "Bench guitar", "--gauges", "10,13"}), 2,
                      "--gauges: 2 gauges for 6 strings; ");
        check_refused(bench.run({"compare", "--visits", "1"}), 2, "--visits 1: not two visits; ");
        check_refused(bench.run({"history", "--instrument", "Bench guitar"}), 2,
                      "history: of which string?; ");
    }
}

}  // namespace midspan::test
