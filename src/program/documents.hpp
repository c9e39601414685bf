// documents.hpp: help, man page and completions, all made from the descriptions of the options.
//
// Room: program. Pure. May include: everything.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "program/option.hpp"

namespace midspan::program {

/// What `midspan COMMAND --help` shows; fits a screen of 24 lines and 80 columns.
[[nodiscard]] std::string help_of(const CommandDescription& command);

/// What `midspan --help` shows.
[[nodiscard]] std::string help_of(std::span<const CommandDescription> commands);

/// What `midspan FIRST --help` shows, of the commands whose names begin with that word.
[[nodiscard]] std::string help_of(std::span<const CommandDescription> commands, std::string_view first);

/// The words that can follow: "add", "change", ... of "instrument".
[[nodiscard]] std::vector<std::string_view> second_words(std::span<const CommandDescription> commands,
                                                         std::string_view first);

/// The OPTIONS section of the man page, from its heading to the next.
[[nodiscard]] std::string man_options(std::span<const CommandDescription> commands);

/// tools/completions/midspan.bash
[[nodiscard]] std::string bash_completion(std::span<const CommandDescription> commands);

/// tools/completions/_midspan
[[nodiscard]] std::string zsh_completion(std::span<const CommandDescription> commands);

}  // namespace midspan::program
