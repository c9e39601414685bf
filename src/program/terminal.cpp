// terminal.cpp: writing until all is written, and no colour where none is wanted.
//
// Room: program. Edge: the screen, the clock.
#include "program/terminal.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cctype>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <cstring>

#include "program/exit_code.hpp"
#include "view/columns.hpp"
#include "view/figures.hpp"

namespace midspan::program {
namespace {

using std::chrono::steady_clock;

constexpr std::string_view erase_line = "\r\x1b[K";

/// Whether the moving line is on the screen; a signal handler reads it.
volatile std::sig_atomic_t line_is_shown = 0;
/// A way to the screen of its own: while a microphone is open its drivers are kept quiet, and stderr with
/// them.
volatile std::sig_atomic_t line_goes_to = STDERR_FILENO;

std::string_view variable(const char* name) {
    const char* value = std::getenv(name);
    return value != nullptr ? value : "";
}

/// The first of LC_ALL, LC_CTYPE and LANG that says something decides, as for every program.
bool locale_is_utf8() {
    for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
        std::string value{variable(name)};
        if (value.empty()) continue;
        std::transform(value.begin(), value.end(), value.begin(),
                       [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
        return value.find("utf-8") != std::string::npos || value.find("utf8") != std::string::npos;
    }
    return false;
}

bool can_move_about(int descriptor) { return isatty(descriptor) == 1 && variable("TERM") != "dumb"; }

bool is_character_device(int descriptor) {
    struct stat about {};
    return fstat(descriptor, &about) == 0 && S_ISCHR(about.st_mode);
}

/// 0, or the error number.
int write_all(int descriptor, std::string_view text) {
    while (!text.empty()) {
        const ssize_t written = ::write(descriptor, text.data(), text.size());
        if (written < 0) {
            if (errno == EINTR) continue;
            return errno;
        }
        text.remove_prefix(static_cast<std::size_t>(written));
    }
    return 0;
}

/// A measurement of files leaves nothing half done, so there is nothing to wait for.
extern "C" void end_quietly(int) {
    if (line_is_shown != 0) {
        const ssize_t ignored = ::write(line_goes_to, erase_line.data(), erase_line.size());
        static_cast<void>(ignored);
    }
    ::_exit(interrupted);
}

}  // namespace

Screen screen_of_stdout() {
    const bool colour = std::getenv("NO_COLOR") == nullptr;
    return {locale_is_utf8(), colour && can_move_about(STDOUT_FILENO)};
}

std::optional<Error> write_out(std::string_view text) {
    const int number = write_all(STDOUT_FILENO, text);
    // EIO comes from a terminal whose window was closed, and from a disk that is broken.
    if (number == 0 || number == EPIPE || (number == EIO && is_character_device(STDOUT_FILENO))) {
        return std::nullopt;
    }
    return Error{Fault::record, "standard output",
                 fmt::format("cannot be written: {}", std::strerror(number)),
                 "make room, or send it elsewhere"};
}

void tell(const Error& error) { tell(fmt::format("{}: {}; {}", error.subject, error.problem, error.remedy)); }

void tell(std::string_view notice) {
    const std::string line = printable(fmt::format("midspan: {}", notice)) + '\n';
    // Nowhere is left to complain when stderr itself cannot be written.
    static_cast<void>(write_all(STDERR_FILENO, line));
}

void settle_signals() {
    std::signal(SIGPIPE, SIG_IGN);
    // Whoever started this in the background may have it ignored; that stays.
    if (std::signal(SIGINT, end_quietly) == SIG_IGN) std::signal(SIGINT, SIG_IGN);
}

Progress::Progress()
    : wanted_{can_move_about(STDERR_FILENO)}, next_{steady_clock::now() + std::chrono::seconds{1}} {
    if (!wanted_) return;
    const int own = fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, STDERR_FILENO + 1);
    if (own >= 0) line_goes_to = own;
}

Progress::~Progress() {
    if (line_is_shown != 0) static_cast<void>(write_all(line_goes_to, erase_line));
    line_is_shown = 0;
    if (line_goes_to == STDERR_FILENO) return;
    const int own = line_goes_to;
    line_goes_to = STDERR_FILENO;
    close(own);
}

void Progress::show(std::string_view what, Seconds done, std::optional<Seconds> total) {
    if (!wanted_ || steady_clock::now() < next_) return;
    next_ = steady_clock::now() + std::chrono::milliseconds{200};
    line_is_shown = 1;
    const std::string of = total ? " of " + minutes_and_seconds(*total) : std::string{};
    static_cast<void>(write_all(line_goes_to, fmt::format("{}{}: {}{} min heard", erase_line, printable(what),
                                                          minutes_and_seconds(done), of)));
}

void Progress::say(std::string_view words) {
    if (!wanted_) return;
    line_is_shown = 1;
    static_cast<void>(write_all(line_goes_to, fmt::format("{}{}", erase_line, printable(words))));
}

}  // namespace midspan::program
