// columns.cpp: padding and breaking, counted in characters and not in bytes.
//
// Room: view. Pure.
#include "view/columns.hpp"

#include <algorithm>

namespace midspan {

std::size_t columns(std::string_view text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;  // not a continuation byte
    }));
}

std::string padded(std::string text, std::size_t width) {
    const std::size_t taken = columns(text);
    if (taken < width) text.append(width - taken, ' ');
    return text;
}

std::vector<std::string> broken(std::string_view text, std::size_t width) {
    std::vector<std::string> lines;
    std::string line;
    while (!text.empty()) {
        const std::size_t space = std::min(text.find(' '), text.size());
        const std::string_view word = text.substr(0, space);
        text.remove_prefix(std::min(space + 1, text.size()));
        if (word.empty()) continue;
        if (!line.empty() && columns(line) + 1 + columns(word) > width) {
            lines.push_back(std::move(line));
            line.clear();
        }
        if (!line.empty()) line += ' ';
        line += word;
    }
    if (!line.empty()) lines.push_back(std::move(line));
    return lines;
}

std::string printable(std::string_view text) {
    std::string result{text};
    std::replace_if(
        result.begin(), result.end(), [](unsigned char c) { return c < 0x20U || c == 0x7fU; }, '?');
    return result;
}

std::string paragraph(std::string_view first, std::string_view text) {
    const std::size_t indent = columns(first);
    std::string result;
    for (const std::string& line : broken(text, page_width - indent)) {
        result += result.empty() ? std::string{first} : std::string(indent, ' ');
        result += line + '\n';
    }
    return result;
}

}  // namespace midspan
