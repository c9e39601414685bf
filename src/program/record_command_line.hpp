// record_command_line.hpp: the words behind the commands of the setup record, turned into their options.
//
// Room: program. Pure. May include: everything.
#pragma once

#include "program/command_line.hpp"
#include "program/words.hpp"

namespace midspan::program {

/// What --record FILE said.
[[nodiscard]] RecordFile record_file_of(const Words& words);

[[nodiscard]] Result<Command> instrument_add_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> instrument_change_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> instrument_list_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> instrument_show_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> instrument_delete_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> instrument_restore_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> visit_begin_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> visit_note_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> visit_end_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> visit_list_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> visit_show_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> visit_moved_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> visit_remove_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> visit_restore_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> measure_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> compare_command(const CommandDescription&, const Words& words);
[[nodiscard]] Result<Command> history_command(const CommandDescription&, const Words& words);

}  // namespace midspan::program
