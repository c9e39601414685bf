// big_letters.hpp: letters made of blocks, to be read from afar.
//
// Room: view. Pure. May include: nothing.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace midspan {

/// `text` in letters seven dots high, two dots to a row and one to a column, each dot `scale` times as large:
/// (7 scale + 1) / 2 rows, all of the same width. Letters become capitals; what has no letter here is left
/// blank. Without UTF-8 the halves of a block are '"' and 'o'.
[[nodiscard]] std::vector<std::string> big_letters(std::string_view text, int scale, bool utf8);

/// Rows that takes.
[[nodiscard]] constexpr int big_rows(int scale) { return (7 * scale + 1) / 2; }

/// Columns that takes.
[[nodiscard]] int big_columns(std::string_view text, int scale);

}  // namespace midspan
