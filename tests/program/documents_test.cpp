// documents_test.cpp: what ships beside the program says what the program does.
#include "program/documents.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "program/command_line.hpp"
#include "program/shipped_text.hpp"
#include "view/columns.hpp"

namespace midspan::test {
namespace {

using namespace midspan::program;

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("every help fits a screen of 24 lines and 80 columns, examples last") {
        std::vector<std::string> helps{help_of(commands())};
        for (const CommandDescription& command : commands())
            helps.push_back(help_of(command));
        for (const std::string& help : helps) {
            CHECK(lines(help).size() <= 24);
            for (const std::string& line : lines(help)) {
                CAPTURE(line);
                CHECK(columns(line) <= 80);
            }
            CHECK(lines(help).back().starts_with("  midspan "));
        }
    }

    TEST_CASE("the man page's OPTIONS are those of the program; make the target 'documents' to renew them") {
        CHECK(section(shipped("tools/man/midspan.1"), ".SH OPTIONS\n", ".SH ") == man_options(commands()));
    }

    TEST_CASE("the completions are those of the program; make the target 'documents' to renew them") {
        CHECK(shipped("tools/completions/midspan.bash") == bash_completion(commands()));
        CHECK(shipped("tools/completions/_midspan") == zsh_completion(commands()));
    }

    TEST_CASE("the man page has the sections its readers look for, in their order") {
        std::vector<std::string> found;
        for (const std::string& line : lines(shipped("tools/man/midspan.1"))) {
            if (line.starts_with(".SH ")) found.push_back(line.substr(4));
        }
        CHECK(found == std::vector<std::string>{"NAME", "SYNOPSIS", "DESCRIPTION", "OPTIONS", "EXIT STATUS",
                                                "EXAMPLES", "FILES", "ENVIRONMENT", "CAUTIONS"});
    }
}

}  // namespace midspan::test
