// export_run_test.cpp: out of one record into another, and onto paper, as a user does it.
#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <string>
#include <vector>

#include "program/check_refused.hpp"
#include "program/run_program.hpp"
#include "support/temp_folder.hpp"

namespace midspan::test {
namespace {

const std::string example = MIDSPAN_SCHEMAS "/example-record.json";

/// Runs a command on the record in `file`.
Run on(const std::string& file, std::vector<std::string> words) {
    words.insert(words.end(), {"--record", file});
    return run_program(words);
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("what one record exports another takes in, and exports the same") {
        const TempFolder folder;
        const std::string first = folder.file("first.sqlite");
        const Run import = on(first, {"import", example});
        CHECK(import.err == "");
        CHECK(import.exit_code == 0);
        CHECK(import.out == "Taken in: 1 instrument, 1 visit\n");
        const std::string exported = folder.file("record.json");
        CHECK(on(first, {"export", "--output", exported}).out == "");
        CHECK((content(exported) == content(example)));

        Surroundings piped;
        piped.in = content(exported);
        const std::string second = folder.file("second.sqlite");
        CHECK(run_program({"import", "-", "--record", second}, piped).exit_code == 0);
        CHECK((on(second, {"export", "--instrument", "Parlour guitar"}).out == content(example)));
    }

    TEST_CASE("tables have a row for each string of a reading and for each measurement") {
        const TempFolder folder;
        const std::string record = folder.file("record.sqlite");
        REQUIRE(on(record, {"import", example}).exit_code == 0);
        const auto rows = [&record](const char* table) {
            const Run run = on(record, {"export", "--csv", table});
            CHECK(run.exit_code == 0);
            std::size_t count = 0;
            for (auto at = run.out.find("\r\n"); at != std::string::npos; at = run.out.find("\r\n", at + 2))
                ++count;
            return count;
        };
        CHECK(rows("readings") == 1 + 2 * 6);
        CHECK(rows("measurements") == 1 + 7);
    }

    TEST_CASE("the sheet of the only instrument is its last visit, and --svg its pictures") {
        const TempFolder folder;
        const std::string record = folder.file("record.sqlite");
        REQUIRE(on(record, {"import", example}).exit_code == 0);
        const Run page = on(record, {"sheet"});
        CHECK(page.exit_code == 0);
        CHECK(page.out.starts_with("<!DOCTYPE html>"));
        CHECK(page.out.find("4 of 6 strings now play in tune") != std::string::npos);
        CHECK((on(record, {"sheet", "Parlour guitar", "--visit", "1"}).out == page.out));
        const std::string file = folder.file("sheet.svg");
        CHECK(on(record, {"sheet", "--svg", "--output", file}).exit_code == 0);
        CHECK(content(file).starts_with("<?xml"));
        CHECK(on(record, {"sheet", "--units", "inch"}).out.find("0.016 in (0.40 mm)") != std::string::npos);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("nothing in the record is written over, and every name that clashes is told") {
        const TempFolder folder;
        const std::string record = folder.file("record.sqlite");
        REQUIRE(on(record, {"import", example}).exit_code == 0);
        const std::string before = on(record, {"export"}).out;
        check_refused(on(record, {"import", example}), 2,
                      example + ": the record has these already: Parlour guitar; ");
        CHECK((on(record, {"export"}).out == before));
    }

    TEST_CASE("a file that is not there, is a folder or no record ends with 3") {
        const TempFolder folder;
        const std::string record = folder.file("record.sqlite");
        const std::string missing = folder.file("missing.json");
        check_refused(on(record, {"import", missing}), 3, missing + ": there is no such file; ");
        check_refused(on(record, {"import", folder.path().string()}), 3, folder.path().string() + ": ");
        const std::string list = folder.file("list.json");
        std::ofstream{list} << "strings, files, tape\n";
        check_refused(on(record, {"import", list}), 3, list + ": is no JSON");
        CHECK_FALSE(std::filesystem::exists(record));
    }

    TEST_CASE("an instrument or a visit that is not there is named, and what to do without any") {
        const TempFolder folder;
        const std::string record = folder.file("record.sqlite");
        check_refused(on(record, {"sheet"}), 2, record + ": holds no instrument; ");
        REQUIRE(on(record, {"import", example}).exit_code == 0);
        check_refused(on(record, {"sheet", "Other guitar"}), 2, "");
        check_refused(on(record, {"sheet", "--visit", "7"}), 2, "");
        check_refused(on(record, {"sheet", "--visit", "last"}), 2, "--visit last: no number of a visit; ");
        check_refused(on(record, {"export", "--instrument", "Other guitar"}), 2, "");
        check_refused(on(record, {"export", "--csv", "moves"}), 2, "--csv moves: no such choice; ");
        check_refused(on(record, {"import"}), 2, "import: no file; ");
    }

    TEST_CASE("a place that cannot be written ends with 5, and what was there stays") {
        const TempFolder folder;
        const std::string record = folder.file("record.sqlite");
        REQUIRE(on(record, {"import", example}).exit_code == 0);
        const std::string nowhere = folder.file("no-folder/sheet.html");
        check_refused(on(record, {"sheet", "--output", nowhere}), 5, nowhere + ": cannot be written: ");
        check_refused(on(record, {"export", "--output", folder.path().string()}), 5,
                      folder.path().string() + ": ");
        if (std::filesystem::exists("/dev/full")) {
            check_refused(on(record, {"export", "--output", "/dev/full"}), 5,
                          "/dev/full: cannot be written: ");
        }
    }
}

}  // namespace midspan::test
