// shipped_text.hpp: files of the checkout, to be held against the program.
//
// Room: tests/program.
#pragma once

#include <doctest/doctest.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <sstream>
#include <string>
#include <vector>

#include "support/temp_folder.hpp"

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

/// Goes before a command line as it stands in the README or a help: a shell that knows `midspan`, with a
/// record of its own, in `folder`, where the checkout can be read and what is written stays out of it.
inline std::string in_a_checkout(const TempFolder& folder) {
    for (const char* part : {"test_audio", "tools"}) {
        const std::string link = folder.file(part);
        if (!std::filesystem::exists(link)) {
            std::filesystem::create_symlink(std::filesystem::path{MIDSPAN_SOURCE} / part, link);
        }
    }
    return "export LC_ALL=C MIDSPAN_RECORD='" + folder.file("record.sqlite") + "'; cd '" + folder.file(".") +
           "' && midspan() { '" MIDSPAN_PROGRAM "' \"$@\"; } && ";
}

}  // namespace midspan::test
