// silent_stderr.hpp: standard error leads nowhere for a while.
//
// Room: sound. Edge: the process's standard error. May include: nothing.
#pragma once

namespace midspan {

/// As long as this lives, whatever the process writes to standard error is gone. Those that live at the same
/// time must end in the reverse order.
class SilentStderr {
public:
    SilentStderr();
    ~SilentStderr();
    SilentStderr(const SilentStderr&) = delete;
    SilentStderr& operator=(const SilentStderr&) = delete;

private:
    int kept_;  ///< where it leads usually; -1: nowhere to go back to
};

}  // namespace midspan
