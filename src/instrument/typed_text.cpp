// typed_text.cpp: blanks, quotes, commas and numbers.
//
// Room: instrument. Pure.
#include "instrument/typed_text.hpp"

#include <charconv>
#include <system_error>

namespace midspan {

std::string_view trimmed(std::string_view text) {
    constexpr std::string_view blanks = " \t\r\n";
    const auto first = text.find_first_not_of(blanks);
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

std::string quoted(std::string_view text) {
    constexpr std::size_t longest = 60;
    std::string line = "'";
    for (const char c : text.substr(0, longest)) {
        const bool control = static_cast<unsigned char>(c) < 0x20 || c == 0x7f;
        line += control ? '?' : c;
    }
    line += text.size() > longest ? "...'" : "'";
    return line;
}

std::vector<std::string_view> between_commas(std::string_view text) {
    std::vector<std::string_view> parts;
    if (trimmed(text).empty()) return parts;
    for (;;) {
        const auto comma = text.find(',');
        parts.push_back(trimmed(text.substr(0, comma)));
        if (comma == std::string_view::npos) return parts;
        text.remove_prefix(comma + 1);
    }
}

std::optional<double> unsigned_number(std::string_view text) {
    // from_chars would also take "-1", "inf" and "nan".
    if (text.empty() || text.find_first_not_of("0123456789.") != std::string_view::npos) return std::nullopt;
    double number = 0.0;
    const char* const end = text.data() + text.size();
    const auto [stop, fault] = std::from_chars(text.data(), end, number, std::chars_format::fixed);
    if (fault != std::errc{} || stop != end) return std::nullopt;
    return number;
}

}  // namespace midspan
