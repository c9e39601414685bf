// check_refused.cpp: exit code and streams of a run that was refused.
//
// Room: tests/program.
#include "program/check_refused.hpp"

#include <doctest/doctest.h>

namespace midspan::test {

void check_refused(const Run& run, int exit_code, const std::string& beginning) {
    CAPTURE(run.err);
    CHECK(run.exit_code == exit_code);
    CHECK(run.out.empty());
    CHECK(run.err.starts_with("midspan: " + beginning));
    CHECK(run.err.find("; ") != std::string::npos);
    CHECK(run.err.find('\n') + 1 == run.err.size());
}

}  // namespace midspan::test
