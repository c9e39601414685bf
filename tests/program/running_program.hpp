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
    /// on_terminal  stdin and stdout are a terminal of 24 by 80; otherwise a file, and there is no input
    RunningProgram(const std::vector<std::string>& arguments, const std::vector<std::string>& variables,
                   bool on_terminal = false);
    /// One that still runs is killed.
    ~RunningProgram();
    RunningProgram(const RunningProgram&) = delete;
    RunningProgram& operator=(const RunningProgram&) = delete;

    /// What it has written to stdout so far.
    [[nodiscard]] std::string out();

    /// Keys, on its terminal.
    void type(const std::string& keys) const;

    /// Its terminal is gone, as when a window is closed.
    void close_terminal();

    void send(int signal) const;

    /// Waits for something to become true; false when it has not for half a minute, or the program ended.
    [[nodiscard]] bool wait_until(const std::function<bool()>& condition);

    /// Waits for its end, half a minute at most; one that goes on is killed, and its exit code is 128 + 9.
    [[nodiscard]] Run end();

private:
    [[nodiscard]] bool ended();

    TempFolder folder_;
    pid_t child_;
    int terminal_ = -1;  // our end
    std::string shown_;  // on it, so far
    int status_ = 0;
    bool ended_ = false;
};

}  // namespace midspan::test
