// record_faults_test.cpp: killed writers, full disks, locks, damage: nothing committed is lost.
#include <doctest/doctest.h>
#include <fcntl.h>
#include <sched.h>
#include <signal.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>
#include <SQLiteCpp/Transaction.h>

#include <chrono>
#include <filesystem>
#include <fstream>
#include <random>
#include <string>
#include <thread>

#include "midspan/record/record_store.hpp"
#include "record/record_store_fault.hpp"
#include "record/record_store_schema.hpp"
#include "record/sample_record.hpp"
#include "support/temp_folder.hpp"
#include "support/trials.hpp"

namespace midspan::test {
namespace {

/// SQLite's own checks of the whole file.
void check_sound(const std::string& path) {
    SQLite::Database database{path, SQLite::OPEN_READWRITE};
    CHECK(database.execAndGet("PRAGMA integrity_check").getString() == "ok");
    SQLite::Statement broken{database, "PRAGMA foreign_key_check"};
    CHECK(!broken.executeStep());
}

/// A record with an open visit of "guitar".
std::string begun(const TempFolder& folder) {
    const std::string path = folder.file("record.sqlite");
    auto store = RecordStore::open(path);
    REQUIRE(store.ok());
    REQUIRE(!store.value().add(sample_entry("guitar")));
    REQUIRE(store.value().begin_visit("guitar", sample_visit()).ok());
    return path;
}

/// In a process of its own: `work`, until it ends by itself or is killed. Returns its id.
template <class Work>
pid_t in_another_process(const Work& work) {
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) _exit(work());
    return child;
}

int ending_of(pid_t child) {
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

/// What a killed process leaves in a file does not depend on how slow the disk is; the time of this test
/// does.
std::filesystem::path where_writing_is_fast() {
    const std::filesystem::path memory = "/dev/shm";
    if (access(memory.c_str(), W_OK) == 0) return memory;
    return std::filesystem::temp_directory_path();
}

/// The measurement whose note is a number, so that a lost one leaves a gap.
BenchMeasurement numbered(int number) {
    BenchMeasurement measurement = sample_measurement();
    measurement.note = std::to_string(number);
    return measurement;
}

void check_error(const std::optional<Error>& error, const std::string& path, const std::string& problem) {
    REQUIRE(error);
    CHECK(error->fault == Fault::record);
    CHECK(error->subject == path);
    CHECK(error->problem == problem);
    CHECK(!error->remedy.empty());
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("a writer killed three hundred times leaves all that it had committed, and nothing by halves") {
        const TempFolder folder{where_writing_is_fast()};
        const std::string path = begun(folder);
        std::minstd_rand random{20260314};
        int next = 0;
        for (int kill_number = 0; kill_number < trials(300); ++kill_number) {
            int ends[2];
            REQUIRE(pipe(ends) == 0);
            const pid_t writer = in_another_process([&] {
                auto store = RecordStore::open(path);
                if (!store) return 1;
                for (int number = next;; ++number) {
                    if (store.value().add("guitar", 1, numbered(number))) return 2;
                    if (store.value().add("guitar", 1, BenchWork{{sample_reading()}})) return 3;
                    if (write(ends[1], &number, sizeof number) != sizeof number) return 4;
                }
            });
            close(ends[1]);
            int committed = next - 1;
            // One time it may still be opening the file, the other it is in the midst of writing.
            if (kill_number % 2 != 0)
                REQUIRE(read(ends[0], &committed, sizeof committed) == sizeof committed);
            std::this_thread::sleep_for(std::chrono::microseconds{random() % 4000});
            kill(writer, SIGKILL);
            REQUIRE(ending_of(writer) == 128 + SIGKILL);
            for (int number = 0; read(ends[0], &number, sizeof number) == sizeof number;)
                committed = number;
            close(ends[0]);

            auto store = RecordStore::open(path);
            REQUIRE(store.ok());
            const auto listed = store.value().visits("guitar");
            REQUIRE(listed.ok());
            const int measurements = listed.value()[0].measurements;
            const int readings = listed.value()[0].readings;
            // Between the last number told and the kill, one more of each may have been committed.
            REQUIRE(readings >= committed + 1);
            REQUIRE(readings <= committed + 2);
            REQUIRE(measurements >= readings);
            REQUIRE(measurements <= readings + 1);
            if (measurements > readings)
                REQUIRE(!store.value().add("guitar", 1, BenchWork{{sample_reading()}}));
            next = measurements;
            check_sound(path);
        }
        CHECK(next >= trials(150));
        const Visit visit = RecordStore::open(path).value().visit("guitar", 1).value();
        for (int number = 0; number < next; ++number)
            REQUIRE(visit.measurements[static_cast<std::size_t>(number)].note == std::to_string(number));
        for (const IntonationReading& reading : visit.readings) {
            REQUIRE(reading.analysis.strings.size() == 6);
            REQUIRE(reading.analysis.plucks.size() == 2);
            REQUIRE(reading.analysis.warnings.size() == 2);
        }
    }

    TEST_CASE("four midspans write at once, and each finds all it wrote") {
        const TempFolder folder;
        const std::string path = folder.file("record.sqlite");
        constexpr int each = 40;
        std::vector<pid_t> writers;
        for (int writer = 0; writer < 4; ++writer) {
            // Each may be the one that makes the file.
            writers.push_back(in_another_process([&] {
                const std::string name = "guitar " + std::to_string(writer);
                auto store = RecordStore::open(path, Seconds{30.0});
                if (!store) return 1;
                if (store.value().add(sample_entry(name))) return 2;
                if (!store.value().begin_visit(name, sample_visit())) return 3;
                for (int number = 0; number < each; ++number) {
                    if (store.value().add(name, 1, numbered(number))) return 4;
                }
                return 0;
            }));
        }
        for (const pid_t writer : writers)
            CHECK(ending_of(writer) == 0);
        auto store = RecordStore::open(path);
        REQUIRE(store.ok());
        for (int writer = 0; writer < 4; ++writer) {
            CHECK(store.value().visits("guitar " + std::to_string(writer)).value()[0].measurements == each);
        }
        check_sound(path);
    }

    TEST_CASE("a record is copied aside before it is brought to a new version") {
        const TempFolder folder;
        const std::string path = begun(folder);
        std::vector<std::string_view> scripts(record_migrations().begin(), record_migrations().end());
        const auto today = scripts.size();
        scripts.push_back("ALTER TABLE visit ADD COLUMN paid TEXT;");
        {
            SQLite::Database database{path, SQLite::OPEN_READWRITE};
            CHECK(!migrate(database, path, scripts));
            CHECK(database.execAndGet("SELECT count(paid) FROM visit").getInt() == 0);
            CHECK(database.execAndGet("PRAGMA user_version").getInt() == static_cast<int>(today) + 1);
        }
        check_sound(path);
        const std::string copy = path + ".version-" + std::to_string(today);
        check_sound(copy);
        CHECK(RecordStore::open(copy).value().visits("guitar").value().size() == 1);
        // The one that was brought on is now from a newer midspan than this.
        const auto newer = RecordStore::open(path);
        REQUIRE(!newer.ok());
        CHECK(newer.error().problem ==
              "was written by a newer midspan (version " + std::to_string(today + 1) + " of the record)");
    }

    TEST_CASE("a script that fails leaves the record as it was") {
        const TempFolder folder;
        const std::string path = begun(folder);
        std::vector<std::string_view> scripts(record_migrations().begin(), record_migrations().end());
        scripts.push_back("CREATE TABLE half (a INTEGER) STRICT; CREATE TABLE visit (a INTEGER) STRICT;");
        {
            SQLite::Database database{path, SQLite::OPEN_READWRITE};
            CHECK_THROWS_AS(static_cast<void>(migrate(database, path, scripts)), SQLite::Exception);
        }
        CHECK(RecordStore::open(path).value().visits("guitar").value().size() == 1);
        SQLite::Database database{path, SQLite::OPEN_READWRITE};
        CHECK(!database.tableExists("half"));
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("a full disk is told, keeps what was committed, and takes the rest once there is room") {
        const TempFolder folder;
        const std::string path = begun(folder);
        int ends[2];
        REQUIRE(pipe(ends) == 0);
        const pid_t writer = in_another_process([&] {
            signal(SIGXFSZ, SIG_IGN);
            const rlimit room{400 * 1024, 400 * 1024};  // for each file, where a full disk has none for any
            if (setrlimit(RLIMIT_FSIZE, &room) != 0) return 1;
            auto store = RecordStore::open(path);
            if (!store) return 2;
            for (int number = 0; number < 10000; ++number) {
                if (const auto error = store.value().add("guitar", 1, numbered(number))) {
                    const bool told =
                        error->fault == Fault::record && error->subject == path &&
                        error->remedy.find("what was recorded before is safe") != std::string::npos;
                    return told && write(ends[1], &number, sizeof number) == sizeof number ? 0 : 3;
                }
            }
            return 4;
        });
        CHECK(ending_of(writer) == 0);
        int refused = 0;
        REQUIRE(read(ends[0], &refused, sizeof refused) == sizeof refused);
        close(ends[0]);
        close(ends[1]);
        CHECK(refused > 0);
        check_sound(path);
        auto store = RecordStore::open(path);
        REQUIRE(store.ok());
        CHECK(store.value().visits("guitar").value()[0].measurements == refused);
        CHECK(!store.value().add("guitar", 1, numbered(refused)));
    }

    TEST_CASE("a disk that is really full is told as that, and once there is room nothing is missing") {
        const TempFolder folder;
        // A disk of 700 kB, seen by this process alone. 77: none may be mounted here.
        const pid_t writer = in_another_process([&] {
            const std::string disk = folder.path().string();
            if (unshare(CLONE_NEWNS) != 0) return 77;
            if (mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0) return 77;
            if (mount("small", disk.c_str(), "tmpfs", 0, "size=700k") != 0) return 77;
            const std::string path = begun(folder);
            int committed = 0;
            {
                auto store = RecordStore::open(path);
                if (!store) return 1;
                std::optional<Error> error;
                while (!error && committed < 10'000) {
                    error = store.value().add("guitar", 1, numbered(committed));
                    if (!error) ++committed;
                }
                if (!error || error->fault != Fault::record || error->subject != path) return 2;
                if (error->problem != "the disk is full") return 3;
                if (error->remedy != "make room and run this again; what was recorded before is safe")
                    return 4;
                // What is there can be read all the same.
                const auto listed = store.value().visits("guitar");
                if (!listed || listed.value()[0].measurements != committed) return 5;
            }
            const auto still_full = RecordStore::open(path);
            if (!still_full && still_full.error().remedy.find("room") == std::string::npos) return 6;
            if (mount("small", disk.c_str(), "tmpfs", MS_REMOUNT, "size=4m") != 0) return 7;
            auto store = RecordStore::open(path);
            if (!store) return 8;
            const auto listed = store.value().visits("guitar");
            if (!listed || listed.value()[0].measurements != committed) return 9;
            if (store.value().add("guitar", 1, numbered(committed))) return 10;
            SQLite::Database database{path, SQLite::OPEN_READWRITE};
            if (database.execAndGet("PRAGMA integrity_check").getString() != "ok") return 11;
            SQLite::Statement broken{database, "PRAGMA foreign_key_check"};
            return broken.executeStep() ? 12 : 0;
        });
        const int ending = ending_of(writer);
        if (ending == 77) {
            MESSAGE(
                "skipped: no disk may be mounted here; files that must not grow stand in, in the test "
                "before");
            return;
        }
        CHECK(ending == 0);
    }

    TEST_CASE("a record that can grow by no page says that the disk is full") {
        const TempFolder folder;
        const std::string path = begun(folder);
        SQLite::Database database{path, SQLite::OPEN_READWRITE};
        std::optional<Error> error;
        try {
            database.exec("PRAGMA max_page_count = 1; CREATE TABLE more (a TEXT) STRICT");
        } catch (const SQLite::Exception& exception) {
            error = record_fault(path, exception);
        }
        check_error(error, path, "the disk is full");
    }

    TEST_CASE("a record somebody else keeps locked is told after the patience is over, and is whole") {
        const TempFolder folder;
        const std::string path = begun(folder);
        SQLite::Database other{path, SQLite::OPEN_READWRITE};
        auto store = RecordStore::open(path, Seconds{0.05});
        REQUIRE(store.ok());
        {
            const SQLite::Transaction writing{other, SQLite::TransactionBehavior::IMMEDIATE};
            check_error(store.value().add("guitar", 1, sample_measurement()), path,
                        "another program is writing to it and does not end");
            CHECK(store.value().visits("guitar").ok());  // to read is no matter
        }
        CHECK(!store.value().add("guitar", 1, sample_measurement()));
        CHECK(store.value().visits("guitar").value()[0].measurements == 1);
    }

    TEST_CASE("a file that is no setup record stays as it is") {
        const TempFolder folder;
        const std::string text = folder.file("list.txt");
        const std::string content(5000, 'x');
        std::ofstream{text} << content;
        check_error(RecordStore::open(text).error(), text, "is no setup record");
        std::ifstream file{text};
        CHECK(std::string{std::istreambuf_iterator<char>{file}, {}} == content);

        const std::string other = folder.file("other.sqlite");
        SQLite::Database{other, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE}.exec("CREATE TABLE songs (a)");
        check_error(RecordStore::open(other).error(), other, "is no setup record");
        CHECK(SQLite::Database{other}.execAndGet("SELECT count(*) FROM sqlite_schema").getInt() == 1);

        check_error(RecordStore::open(folder.path().string()).error(), folder.path().string(),
                    "is no setup record");
    }

    TEST_CASE("a damaged page is told with the way to save the rest, and nothing is overwritten") {
        const TempFolder folder;
        const std::string path = begun(folder);
        {
            auto store = RecordStore::open(path);
            for (int number = 0; number < 200; ++number)
                REQUIRE(!store.value().add("guitar", 1, numbered(number)));
        }
        const auto size = std::filesystem::file_size(path);
        {
            std::fstream file{path, std::ios::in | std::ios::out | std::ios::binary};
            file.seekp(static_cast<std::streamoff>(4096 * (size / 4096 / 2)));
            file << std::string(static_cast<std::size_t>(size / 3), '\xa5');
        }
        auto store = RecordStore::open(path);
        const auto whole = store ? store.value().whole().ok() : false;
        CHECK(!whole);
        if (store) {
            check_error(store.value().whole().error(), path, "is damaged");
            CHECK(store.value().whole().error().remedy.find(".dump") != std::string::npos);
        } else {
            check_error(store.error(), path, "is damaged");
        }
    }

    TEST_CASE("a folder that cannot be made is told with the path of the record") {
        const TempFolder folder;
        std::ofstream{folder.file("file")} << "no folder";
        const std::string path = folder.file("file") + "/record.sqlite";
        const auto store = RecordStore::open(path);
        REQUIRE(!store.ok());
        CHECK(store.error().fault == Fault::record);
        CHECK(store.error().subject == path);
    }

    TEST_CASE("a record that may only be read is read, and refuses to be written") {
        const TempFolder folder;
        const std::string path = begun(folder);
        namespace fs = std::filesystem;
        fs::permissions(path, fs::perms{0444});
        fs::permissions(folder.path(), fs::perms{0555});
        const pid_t reader = in_another_process([&] {
            // Root may write anything, so it becomes nobody.
            if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0)) return 1;
            auto store = RecordStore::open(path);
            if (!store) return 2;
            if (!store.value().visit("guitar", 1)) return 3;
            const auto error = store.value().add("guitar", 1, sample_measurement());
            if (!error) return 4;
            return error->fault == Fault::record && error->problem == "cannot be written, only read" ? 0 : 5;
        });
        CHECK(ending_of(reader) == 0);
        fs::permissions(folder.path(), fs::perms{0755});
    }
}

}  // namespace midspan::test
