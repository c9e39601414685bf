// shipped_take.hpp: a take of test_audio, what was played in it, and what a measurement says.
//
// Room: tests/measurement.
#pragma once

#include <fstream>
#include <functional>
#include <map>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "measurement/measured_file.hpp"

namespace midspan::test {

struct ShippedTake {
    std::string path;
    nlohmann::json truth;
    Analysis analysis;

    /// The analysed string of that number in the truth. A take of one string is analysed as an instrument of
    /// one string, whatever its number on the neck: the open note tells.
    [[nodiscard]] const AnalysedString& string(int number) const {
        for (const auto& told : truth["strings"]) {
            if (told["string"] != number) continue;
            for (const AnalysedString& string : analysis.strings) {
                if (string.string.open_note.text() == told["open_note"]) return string;
            }
        }
        FAIL("string ", number, " is in no truth or no analysis");
        return analysis.strings.front();
    }
};

inline const std::vector<std::string_view>& shipped_takes() {
    static const std::vector<std::string_view> takes{"six-strings", "after",  "low-e",
                                                     "bass",        "drop-d", "hard-take"};
    return takes;
}

/// Measured once, however many tests of one run look at it.
inline const ShippedTake& shipped_take(std::string_view name) {
    static std::map<std::string, ShippedTake, std::less<>> takes;
    if (const auto known = takes.find(name); known != takes.end()) return known->second;
    const std::string folder = std::string{MIDSPAN_TEST_AUDIO} + "/";
    std::ifstream file{folder + std::string{name} + ".json"};
    nlohmann::json truth = nlohmann::json::parse(file);
    const std::string path = folder + truth["recording"].get<std::string>();
    const std::vector<Millimetres> length{Millimetres{truth["scale_length_mm"]}};
    const auto instrument = make_instrument(truth["tuning"].get<std::string>(), length, Hertz{440.0}, {});
    REQUIRE(instrument.ok());
    ShippedTake take{path, std::move(truth), measured_file(path, instrument.value())};
    return takes.emplace(name, std::move(take)).first->second;
}

}  // namespace midspan::test
