// terminal.hpp: the screen: what it can show, and how text gets there.
//
// Room: program. Edge: the screen, the clock. May include: everything.
#pragma once

#include <chrono>
#include <optional>
#include <string>
#include <string_view>

#include "midspan/result.hpp"
#include "midspan/units.hpp"

namespace midspan::program {

/// What whoever reads stdout can see.
struct Screen {
    bool utf8 = false;
    bool emphasis = false;
};

/// From the locale variables, NO_COLOR and TERM, and whether stdout is a terminal.
[[nodiscard]] Screen screen_of_stdout();

/// Writes all of `text` to stdout. A reader who has gone is no error; a full disk is.
[[nodiscard]] std::optional<Error> write_out(std::string_view text);

/// Tells of an error on stderr, in one line.
void tell(const Error& error);

/// Tells of what is no error, likewise.
void tell(std::string_view notice);

/// From now on a reader who goes away is found out by writing, and Ctrl-C ends the program quietly.
void settle_signals();

/// How far a long run has come: one moving line on stderr, on a terminal only and after one second.
class Progress {
public:
    Progress();
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    void show(std::string_view what, Seconds done, std::optional<Seconds> total);

    /// Any words in its place, at once.
    void say(std::string_view words);

private:
    bool wanted_;
    std::chrono::steady_clock::time_point next_;
};

}  // namespace midspan::program
