// bench_screen.hpp: the whole terminal as the bench's screen, and its keys.
//
// Room: program. Edge: the terminal. May include: everything.
#pragma once

#include <memory>
#include <string>

#include "midspan/measurement/bench_session.hpp"
#include "midspan/view/look.hpp"

namespace midspan::program {

enum class BenchKey { none, undo, restart, finish };

/// Takes the terminal over as long as it lives and gives it back as it was: also when a signal that ends the
/// program at once comes in between (SIGQUIT, SIGABRT, SIGSEGV, SIGBUS, SIGFPE, SIGILL). SIGINT, SIGTERM and
/// SIGHUP are left to whoever listens for them, from before this is opened, and then lets go of it. One at a
/// time.
class BenchScreen {
public:
    /// Nothing where stdin or stdout is no terminal, or one that cannot be drawn on.
    [[nodiscard]] static std::unique_ptr<BenchScreen> open(const Look& look);
    ~BenchScreen();
    BenchScreen(const BenchScreen&) = delete;
    BenchScreen& operator=(const BenchScreen&) = delete;

    /// Draws what the session knows. Only what has changed is sent to the terminal.
    void show(const BenchSession& session);

    /// Stands on the screen from the next show() on; empty takes it away.
    void set_notice(std::string notice);

    /// The key that was pressed since, without waiting. A window of another size is drawn anew.
    [[nodiscard]] BenchKey key();

private:
    class Work;
    explicit BenchScreen(std::unique_ptr<Work> work);
    std::unique_ptr<Work> work_;
};

}  // namespace midspan::program
