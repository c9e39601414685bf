// columns.hpp: text in columns and paragraphs.
//
// Room: view. Pure. May include: nothing.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace midspan {

/// What a person reads fits a terminal of this width.
inline constexpr std::size_t page_width = 80;

/// Columns a UTF-8 text takes on the screen, each character counted as one.
[[nodiscard]] std::size_t columns(std::string_view text);

/// `text` with spaces behind it up to `width` columns.
[[nodiscard]] std::string padded(std::string text, std::size_t width);

/// `text` broken at spaces into lines of at most `width` columns; a longer word has a line of its own.
[[nodiscard]] std::vector<std::string> broken(std::string_view text, std::size_t width);

/// `text` on one line that moves no cursor: control characters become '?'.
[[nodiscard]] std::string printable(std::string_view text);

/// A paragraph of full page width: `first` before its first line, as many spaces before the others.
[[nodiscard]] std::string paragraph(std::string_view first, std::string_view text);

}  // namespace midspan
