// text_file.hpp: a whole text from a file or stdin, or to a file.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "midspan/result.hpp"

namespace midspan::program {

/// All of a file; "-" is standard input. Not there, a folder, not to be read: a Fault::input.
[[nodiscard]] Result<std::string> read_text(const std::string& path);

/// Writes `text` to a file in place of what it held. A disk that is full and a folder that cannot be written
/// are a Fault::record; what was there before is then still there.
[[nodiscard]] std::optional<Error> write_text(const std::string& path, std::string_view text);

}  // namespace midspan::program
