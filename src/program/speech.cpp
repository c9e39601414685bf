// speech.cpp: one child at a time.
//
// Room: program. Edge: other programs.
#include "program/speech.hpp"

#include <fcntl.h>
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <array>
#include <utility>

namespace midspan::program {
namespace {

/// The process that speaks `what`, or 0. Its streams lead nowhere.
pid_t spoken_by(std::string what) {
    posix_spawn_file_actions_t streams;
    posix_spawn_file_actions_init(&streams);
    for (const int stream : {STDIN_FILENO, STDOUT_FILENO, STDERR_FILENO})
        posix_spawn_file_actions_addopen(&streams, stream, "/dev/null", O_RDWR, 0);
    std::string command = "espeak-ng";
    const std::array<char*, 3> words{command.data(), what.data(), nullptr};
    pid_t child = 0;
    const int error = posix_spawnp(&child, command.c_str(), &streams, nullptr, words.data(), environ);
    posix_spawn_file_actions_destroy(&streams);
    return error == 0 ? child : 0;
}

}  // namespace

Result<Speech> Speech::start() {
    const pid_t child = spoken_by("--version");
    int status = 0;
    if (child == 0 || waitpid(child, &status, 0) != child || !WIFEXITED(status) || WEXITSTATUS(status) != 0) {
        return Error{Fault::usage, "--say", "espeak-ng is not installed", "install it, or leave --say out"};
    }
    return Speech{};
}

void Speech::say(std::string sentence) {
    waiting_ = std::move(sentence);
    go_on();
}

void Speech::go_on() {
    int status = 0;
    if (speaking_ != 0 && waitpid(speaking_, &status, WNOHANG) == 0) return;
    speaking_ = 0;
    if (waiting_.empty()) return;
    speaking_ = spoken_by(std::exchange(waiting_, {}));
}

}  // namespace midspan::program
