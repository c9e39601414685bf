// words.hpp: the words of a command line, sorted to the options they stand behind.
//
// Room: program. Pure. May include: everything.
#pragma once

#include <charconv>
#include <initializer_list>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "midspan/result.hpp"
#include "midspan/view/look.hpp"
#include "program/option.hpp"

namespace midspan::program {

/// What stood behind each option, in words; what stood behind none of them, under "".
using Words = std::map<std::string_view, std::vector<std::string>>;

[[nodiscard]] Error usage(std::string subject, std::string problem, std::string remedy);

/// Sorts the words to their options. What they mean is not its concern, so every value is a word to it.
[[nodiscard]] Result<Words> sorted(const CommandDescription& command, std::span<const std::string> arguments);

/// The word behind an option that was given at most once, or that this command does not have.
[[nodiscard]] std::optional<std::string_view> word(const Words& words, std::string_view option);

[[nodiscard]] std::vector<std::string_view> split(std::string_view list);

template <class Number>
[[nodiscard]] std::optional<Number> number(std::string_view text) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

/// A number between two bounds.
[[nodiscard]] Result<double> number_of(std::string_view option, std::string_view text, double least,
                                       double most, std::string remedy);

/// Which of the option's choices a word is.
[[nodiscard]] Result<std::size_t> choice_of(std::string_view option, std::string_view text,
                                            std::initializer_list<std::string_view> choices);

/// What --units says; millimetres where it is left out.
[[nodiscard]] Result<LengthUnit> unit_of(const Words& words);

}  // namespace midspan::program
