// run_program.cpp: a child process with files for its three streams.
//
// Room: tests/program.
#include "program/run_program.hpp"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <stdexcept>

#include "support/temp_folder.hpp"

namespace midspan::test {

std::string content(const std::string& path) {
    std::ifstream file{path, std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

std::vector<char*> pointers(std::vector<std::string>& texts) {
    std::vector<char*> all;
    for (std::string& text : texts)
        all.push_back(text.data());
    all.push_back(nullptr);
    return all;
}

namespace {

/// A pipe nobody reads any more.
int abandoned_pipe() {
    int ends[2];
    if (pipe(ends) != 0) throw std::runtime_error{"no pipe"};
    close(ends[0]);
    return ends[1];
}

}  // namespace

Run run_program(const std::vector<std::string>& arguments, const Surroundings& surroundings) {
    const TempFolder folder;
    const std::string out_path = folder.file("out");
    const std::string err_path = folder.file("err");
    std::ofstream{folder.file("in"), std::ios::binary} << surroundings.in;

    std::vector<std::string> words{MIDSPAN_PROGRAM};
    words.insert(words.end(), arguments.begin(), arguments.end());
    std::vector<std::string> variables = surroundings.variables;
    const std::vector<char*> argv = pointers(words);
    const std::vector<char*> environment = pointers(variables);
    const int in = open(folder.file("in").c_str(), O_RDONLY | O_CLOEXEC);
    const int out = surroundings.out_is_closed_early ? abandoned_pipe()
                                                     : open(out_path.c_str(), O_CREAT | O_WRONLY, 0600);
    const int err = open(err_path.c_str(), O_CREAT | O_WRONLY | O_CLOEXEC, 0600);

    const pid_t child = fork();
    if (child < 0) throw std::runtime_error{"no process"};
    if (child == 0) {
        dup2(in, STDIN_FILENO);
        dup2(out, STDOUT_FILENO);
        dup2(err, STDERR_FILENO);
        if (!surroundings.folder.empty() && chdir(surroundings.folder.c_str()) != 0) _exit(126);
        execve(MIDSPAN_PROGRAM, argv.data(), environment.data());
        _exit(127);
    }
    close(in);
    close(out);
    close(err);
    int status = 0;
    if (waitpid(child, &status, 0) != child) throw std::runtime_error{"the process was lost"};
    const int code = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    return {code, content(out_path), content(err_path)};
}

}  // namespace midspan::test
