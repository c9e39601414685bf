// setup_words.hpp: strings and heights as a command line states them.
//
// Room: program. Pure. May include: everything.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "midspan/instrument/instrument.hpp"
#include "midspan/instrument/string_make.hpp"
#include "midspan/result.hpp"

namespace midspan::program {

/// What can be said of one setup; what was not said stays as it is.
struct SetupWords {
    std::vector<StringGauge> gauges;  ///< as they were given
    std::optional<std::string> tuning;
    std::optional<Millimetres> action, nut_height, relief;
};

/// The gauges, string 1 first, when there is one a string; `option` is where they were given. A set is named
/// thin to thick or in the order of the tuning; on strings that rise in pitch only one of the two makes
/// sense, and where they do not rise the order is that of the tuning.
[[nodiscard]] Result<std::vector<StringGauge>> gauges_by_number(const SetupWords& words,
                                                                const Instrument& instrument,
                                                                std::string_view option);

}  // namespace midspan::program
