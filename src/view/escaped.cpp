// escaped.cpp: character by character, and nothing gets through that is no character.
//
// Room: view. Pure.
#include "view/escaped.hpp"

#include <cstdint>

namespace midspan {
namespace {

constexpr std::string_view replacement = "\xEF\xBF\xBD";

struct Character {
    std::uint32_t code;
    std::size_t bytes;  ///< 0: no UTF-8
};

/// How many bytes a character takes that begins with this one; 0: none does.
std::size_t length_after(unsigned char first) {
    if (first < 0x80U) return 1;
    if (first >= 0xC2U && first < 0xE0U) return 2;
    if (first >= 0xE0U && first < 0xF0U) return 3;
    if (first >= 0xF0U && first < 0xF5U) return 4;
    return 0;
}

Character first_character(std::string_view text) {
    const auto first = static_cast<unsigned char>(text.front());
    const std::size_t bytes = length_after(first);
    if (bytes <= 1) return {first, bytes};
    if (text.size() < bytes) return {0, 0};
    std::uint32_t code = first & (0xFFU >> (bytes + 1));
    for (const char c : text.substr(1, bytes - 1)) {
        const auto next = static_cast<unsigned char>(c);
        if ((next & 0xC0U) != 0x80U) return {0, 0};
        code = (code << 6U) | (next & 0x3FU);
    }
    const bool too_long = (bytes == 3 && code < 0x800U) || (bytes == 4 && code < 0x10000U);
    const bool surrogate = code >= 0xD800U && code <= 0xDFFFU;
    if (too_long || surrogate || code > 0x10FFFFU) return {0, 0};
    return {code, bytes};
}

bool may_stand(std::uint32_t code) {
    if (code == '\t' || code == '\n' || code == '\r') return true;
    const bool control = code < 0x20U || (code >= 0x7FU && code < 0xA0U);
    const bool no_character = (code & 0xFFFEU) == 0xFFFEU || (code >= 0xFDD0U && code <= 0xFDEFU);
    return !control && !no_character;
}

std::string_view reference(std::uint32_t code) {
    switch (code) {
        case '&':
            return "&amp;";
        case '<':
            return "&lt;";
        case '>':
            return "&gt;";
        case '"':
            return "&quot;";
        case '\'':
            return "&#39;";
        default:
            return {};
    }
}

}  // namespace

std::string escaped(std::string_view text) {
    std::string result;
    result.reserve(text.size());
    while (!text.empty()) {
        const Character c = first_character(text);
        if (c.bytes == 0 || !may_stand(c.code)) {
            result += replacement;
        } else if (const std::string_view known = reference(c.code); !known.empty()) {
            result += known;
        } else {
            result += text.substr(0, c.bytes);
        }
        text.remove_prefix(c.bytes == 0 ? 1 : c.bytes);
    }
    return result;
}

}  // namespace midspan
