// export_command_line.hpp: the words behind sheet, export and import, turned into their options.
//
// Room: program. Pure. May include: everything.
#pragma once

#include "program/command_line.hpp"
#include "program/words.hpp"

namespace midspan::program {

[[nodiscard]] Result<Command> sheet_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> export_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> import_command(const CommandDescription&, const Words& words);

}  // namespace midspan::program
