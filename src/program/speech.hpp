// speech.hpp: sentences spoken by a command that is installed for that.
//
// Room: program. Edge: other programs. May include: everything.
#pragma once

#include <sys/types.h>

#include <string>

#include "midspan/result.hpp"

namespace midspan::program {

/// Speaks through espeak-ng. Nobody waits for it: say() and go_on() come back at once.
class Speech {
public:
    /// Fails, with Fault::usage, when espeak-ng is not installed.
    [[nodiscard]] static Result<Speech> start();

    /// Speaks when what is being spoken has ended; of several sentences that wait only the last is, since the
    /// others are no longer true.
    void say(std::string sentence);

    /// To be called now and then: begins with the sentence that waits.
    void go_on();

private:
    Speech() = default;

    pid_t speaking_ = 0;  ///< 0: nobody
    std::string waiting_;
};

}  // namespace midspan::program
