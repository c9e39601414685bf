// check_refused.hpp: how the program says no.
//
// Room: tests/program.
#pragma once

#include <string>

#include "program/run_program.hpp"

namespace midspan::test {

/// Checks that the run ended so, with nothing on standard output and one line on the other, of which
/// "midspan: " and `beginning` are the first words and a remedy, behind a semicolon, the last.
void check_refused(const Run& run, int exit_code, const std::string& beginning);

}  // namespace midspan::test
