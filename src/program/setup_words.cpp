// setup_words.cpp: which end of a set of strings is the first.
//
// Room: program. Pure.
#include "program/setup_words.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace midspan::program {

Result<std::vector<StringGauge>> gauges_by_number(const SetupWords& words, const Instrument& instrument,
                                                  std::string_view option) {
    std::vector<StringGauge> gauges = words.gauges;
    if (gauges.size() != instrument.strings.size()) {
        return Error{Fault::usage, std::string{option},
                     fmt::format("{} gauges for {} strings", gauges.size(), instrument.strings.size()),
                     "give one a string: 10,13,17,26w,36w,46w"};
    }
    const bool rises = std::is_sorted(
        instrument.strings.rbegin(), instrument.strings.rend(),
        [](const auto& low, const auto& high) { return low.open_frequency < high.open_frequency; });
    const bool thin_first = gauges.front().gauge < gauges.back().gauge;
    if (!(rises && thin_first)) std::reverse(gauges.begin(), gauges.end());
    return gauges;
}

}  // namespace midspan::program
