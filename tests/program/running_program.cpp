// running_program.cpp: a child process with files for its streams, looked at while it runs.
//
// Room: tests/program.
#include "program/running_program.hpp"

#include <fcntl.h>
#include <signal.h>
#include <sys/ioctl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <stdexcept>
#include <thread>
#include <tuple>
#include <utility>

namespace midspan::test {
namespace {

using namespace std::chrono_literals;

constexpr auto longest_wait = 120s;
constexpr auto between_looks = 10ms;

/// The two ends of a new terminal of 24 by 80: what the program sees, and what we do.
std::pair<int, int> new_terminal() {
    const int ours = posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC | O_NONBLOCK);
    if (ours < 0 || grantpt(ours) != 0 || unlockpt(ours) != 0) throw std::runtime_error{"no terminal"};
    const int theirs = open(ptsname(ours), O_RDWR | O_NOCTTY | O_CLOEXEC);
    if (theirs < 0) throw std::runtime_error{"no terminal"};
    const winsize size{24, 80, 0, 0};
    ioctl(theirs, TIOCSWINSZ, &size);
    return {theirs, ours};
}

}  // namespace

RunningProgram::RunningProgram(const std::vector<std::string>& arguments,
                               const std::vector<std::string>& variables, bool on_terminal) {
    std::vector<std::string> words{MIDSPAN_PROGRAM};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<std::string> environment_texts = variables;
    const std::vector<char*> argv = pointers(words);
    const std::vector<char*> environment = pointers(environment_texts);
    int in = -1;
    int out = -1;
    if (on_terminal) {
        std::tie(in, terminal_) = new_terminal();
        out = fcntl(in, F_DUPFD_CLOEXEC, 3);
    } else {
        in = open("/dev/null", O_RDONLY | O_CLOEXEC);
        out = open(folder_.file("out").c_str(), O_CREAT | O_WRONLY | O_CLOEXEC, 0600);
    }
    const int err = open(folder_.file("err").c_str(), O_CREAT | O_WRONLY | O_CLOEXEC, 0600);
    child_ = fork();
    if (child_ < 0) throw std::runtime_error{"no process"};
    if (child_ == 0) {
        if (on_terminal) {
            setsid();
            ioctl(in, TIOCSCTTY, 0);
        }
        dup2(in, STDIN_FILENO);
        dup2(out, STDOUT_FILENO);
        dup2(err, STDERR_FILENO);
        execve(MIDSPAN_PROGRAM, argv.data(), environment.data());
        _exit(127);
    }
    close(in);
    close(out);
    close(err);
}

RunningProgram::~RunningProgram() {
    close_terminal();
    if (ended()) return;
    kill(child_, SIGKILL);
    waitpid(child_, &status_, 0);
}

std::string RunningProgram::out() {
    if (terminal_ < 0) return shown_ + content(folder_.file("out"));
    char piece[4096];
    for (ssize_t got = 0; (got = read(terminal_, piece, sizeof piece)) > 0;)
        shown_.append(piece, static_cast<std::size_t>(got));
    return shown_;
}

void RunningProgram::type(const std::string& keys) const {
    if (write(terminal_, keys.data(), keys.size()) < 0) throw std::runtime_error{"nothing can be typed"};
}

void RunningProgram::close_terminal() {
    if (terminal_ >= 0) close(terminal_);
    terminal_ = -1;
}

void RunningProgram::send(int signal) const { kill(child_, signal); }

bool RunningProgram::wait_until(const std::function<bool()>& condition) {
    const auto until = std::chrono::steady_clock::now() + longest_wait;
    while (!condition()) {
        static_cast<void>(out());  // a terminal nobody reads stops whoever writes
        if (ended() || std::chrono::steady_clock::now() > until) return false;
        std::this_thread::sleep_for(between_looks);
    }
    return true;
}

Run RunningProgram::end() {
    const auto until = std::chrono::steady_clock::now() + longest_wait;
    while (!ended()) {
        static_cast<void>(out());
        if (std::chrono::steady_clock::now() > until) kill(child_, SIGKILL);
        std::this_thread::sleep_for(between_looks);
    }
    const int code = WIFEXITED(status_) ? WEXITSTATUS(status_) : 128 + WTERMSIG(status_);
    return {code, out(), content(folder_.file("err"))};
}

bool RunningProgram::ended() {
    if (!ended_) ended_ = waitpid(child_, &status_, WNOHANG) == child_;
    return ended_;
}

}  // namespace midspan::test
