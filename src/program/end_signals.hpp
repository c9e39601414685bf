// end_signals.hpp: being told to end, as a wish instead of an end.
//
// Room: program. Edge: the process's signals. May include: everything.
#pragma once

#include <array>
#include <csignal>

namespace midspan::program {

/// As long as this lives, SIGINT, SIGTERM and SIGHUP end nothing by themselves. One at a time.
class EndSignals {
public:
    EndSignals();
    ~EndSignals();
    EndSignals(const EndSignals&) = delete;
    EndSignals& operator=(const EndSignals&) = delete;

    /// Whether one of them has come.
    [[nodiscard]] bool end_wanted() const;

    /// Whether it was because the terminal is gone, so that nobody reads any more.
    [[nodiscard]] bool terminal_gone() const;

private:
    static constexpr std::array numbers_{SIGINT, SIGTERM, SIGHUP};
    std::array<struct sigaction, numbers_.size()> before_{};
};

}  // namespace midspan::program
