// run_program.hpp: runs the program as a user does, and keeps all it said.
//
// Room: tests/program.
#pragma once

#include <string>
#include <vector>

namespace midspan::test {

struct Run {
    int exit_code;  ///< 128 and the signal's number when a signal ended it
    std::string out;
    std::string err;
};

struct Surroundings {
    std::string in{};                                ///< what stands on standard input
    std::vector<std::string> variables{"LC_ALL=C"};  ///< the environment, all of it
    bool out_is_closed_early = false;                ///< whoever reads stdout goes away at once
    std::string folder{};                            ///< to run in; empty: wherever the tests run
};

/// All that is in a file.
[[nodiscard]] std::string content(const std::string& path);

/// What execve() takes; `texts` has to outlive it.
[[nodiscard]] std::vector<char*> pointers(std::vector<std::string>& texts);

/// Runs `midspan` with these arguments. Standard output and error are pipes, so there is no terminal.
[[nodiscard]] Run run_program(const std::vector<std::string>& arguments,
                              const Surroundings& surroundings = {});

}  // namespace midspan::test
