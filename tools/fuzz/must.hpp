// must.hpp: what has to hold for every input; stops the fuzzer where it does not.
#pragma once

#include <cstdio>
#include <cstdlib>
#include <string>

#include "midspan/result.hpp"

namespace midspan::fuzz {

inline void must(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "does not hold: %s\n", what);
    std::abort();
}

/// An error is one line for the screen, and says what is wrong and what to do.
inline void must_be_readable(const Error& error) {
    must(!error.problem.empty() && !error.remedy.empty(), "an error says what is wrong and what to do");
    const std::string line = error.subject + error.problem + error.remedy;
    for (const char letter : line) {
        must(static_cast<unsigned char>(letter) >= ' ' && letter != '\x7F', "an error is one line");
    }
}

}  // namespace midspan::fuzz
