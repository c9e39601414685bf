// silent_stderr.cpp: the descriptor is led elsewhere and back.
//
// Room: sound. Edge: the process's standard error.
#include "sound/silent_stderr.hpp"

#include <fcntl.h>
#include <unistd.h>

namespace midspan {

SilentStderr::SilentStderr() : kept_{fcntl(STDERR_FILENO, F_DUPFD_CLOEXEC, STDERR_FILENO + 1)} {
    if (kept_ < 0) return;
    const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
    if (nowhere < 0) return;
    dup2(nowhere, STDERR_FILENO);
    close(nowhere);
}

SilentStderr::~SilentStderr() {
    if (kept_ < 0) return;
    dup2(kept_, STDERR_FILENO);
    close(kept_);
}

}  // namespace midspan
