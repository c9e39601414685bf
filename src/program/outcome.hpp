// outcome.hpp: what a command leaves.
//
// Room: program. Pure. May include: everything.
#pragma once

#include <optional>
#include <string>

#include "midspan/result.hpp"

namespace midspan::program {

/// Text for stdout, and an error or a notice to tell of beside it.
struct Outcome {
    std::string text;
    std::optional<Error> error{};
    std::string notice{};  ///< a line for stderr that is no error
};

}  // namespace midspan::program
