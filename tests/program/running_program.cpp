// running_program.cpp: a child process with files for its streams, looked at while it runs.
//
// Room: tests/program.
#include "program/running_program.hpp"

#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include <fstream>
#include <iterator>
#include <stdexcept>
#include <thread>

namespace midspan::test {
namespace {

using namespace std::chrono_literals;

constexpr auto longest_wait = 30s;
constexpr auto between_looks = 10ms;

std::vector<char*> pointers(std::vector<std::string>& texts) {
    std::vector<char*> all;
    for (std::string& text : texts)
        all.push_back(text.data());
    all.push_back(nullptr);
    return all;
}

std::string content(const std::string& path) {
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

}  // namespace

RunningProgram::RunningProgram(const std::vector<std::string>& arguments,
                               const std::vector<std::string>& variables) {
    std::vector<std::string> words{MIDSPAN_PROGRAM};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<std::string> environment_texts = variables;
    const std::vector<char*> argv = pointers(words);
    const std::vector<char*> environment = pointers(environment_texts);
    const int in = open("/dev/null", O_RDONLY | O_CLOEXEC);
    const int out = open(folder_.file("out").c_str(), O_CREAT | O_WRONLY | O_CLOEXEC, 0600);
    const int err = open(folder_.file("err").c_str(), O_CREAT | O_WRONLY | O_CLOEXEC, 0600);
    child_ = fork();
    if (child_ < 0) throw std::runtime_error{"no process"};
    if (child_ == 0) {
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
    if (ended()) return;
    kill(child_, SIGKILL);
    waitpid(child_, &status_, 0);
}

std::string RunningProgram::out() const { return content(folder_.file("out")); }

void RunningProgram::send(int signal) const { kill(child_, signal); }

bool RunningProgram::wait_until(const std::function<bool()>& condition) {
    const auto until = std::chrono::steady_clock::now() + longest_wait;
    while (!condition()) {
        if (ended() || std::chrono::steady_clock::now() > until) return false;
        std::this_thread::sleep_for(between_looks);
    }
    return true;
}

Run RunningProgram::end() {
    const auto until = std::chrono::steady_clock::now() + longest_wait;
    while (!ended()) {
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
