// running_program.hpp: the program while it runs, for commands that go on until they are told to end.
//
// Room: tests/program.
#pragma once

#include <sys/types.h>

#include <chrono>
#include <functional>
#include <string>
#include <vector>

#include "program/run_program.hpp"
#include "support/temp_folder.hpp"

namespace midspan::test {

class RunningProgram {
public:
    RunningProgram(const std::vector<std::string>& arguments, const std::vector<std::string>& variables);
    /// One that still runs is killed.
    ~RunningProgram();
    RunningProgram(const RunningProgram&) = delete;
    RunningProgram& operator=(const RunningProgram&) = delete;

    /// What it has written to stdout so far.
    [[nodiscard]] std::string out() const;

    void send(int signal) const;

    /// Waits for something to become true; false when it has not for half a minute, or the program ended.
    [[nodiscard]] bool wait_until(const std::function<bool()>& condition);

    /// Waits for its end, half a minute at most; one that goes on is killed, and its exit code is 128 + 9.
    [[nodiscard]] Run end();

private:
    [[nodiscard]] bool ended();

    TempFolder folder_;
    pid_t child_;
    int status_ = 0;
    bool ended_ = false;
};

}  // namespace midspan::test
