// shipped_text.hpp: files of the checkout, to be held against the program.
//
// Room: tests/program.
#pragma once

#include <doctest/doctest.h>

#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

namespace midspan::test {

inline std::string shipped(const std::string& path) {
    std::ifstream file{std::string{MIDSPAN_SOURCE} + "/" + path, std::ios::binary};
    REQUIRE(file);
    return {std::istreambuf_iterator<char>{file}, {}};
}

/// The part of `text` from a heading to the next of its kind.
inline std::string section(const std::string& text, const std::string& heading, const std::string& next) {
    const auto begin = text.find(heading);
    REQUIRE(begin != std::string::npos);
    return text.substr(begin, text.find(next, begin + heading.size()) - begin);
}

inline std::vector<std::string> lines(const std::string& text) {
    std::istringstream stream{text};
    std::vector<std::string> all;
    for (std::string line; std::getline(stream, line);)
        all.push_back(line);
    return all;
}

}  // namespace midspan::test
