// command_export.hpp: the record as text for other programs, and back.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include <optional>
#include <string>

#include "midspan/result.hpp"
#include "program/opened_record.hpp"
#include "program/outcome.hpp"

namespace midspan::program {

enum class ExportForm { json, readings_csv, measurements_csv, surveys_csv };

struct ExportRecord {
    RecordFile record;
    std::optional<std::string> instrument;  ///< nothing: all, the deleted ones too
    ExportForm form = ExportForm::json;
    std::string output = "-";  ///< "-" is standard output
};

/// Writes the record, or one instrument of it.
[[nodiscard]] Result<Outcome> run(const ExportRecord& command);

struct ImportRecord {
    RecordFile record;
    std::string file;  ///< "-" is standard input
};

/// Takes all of a JSON export into the record, or nothing: an instrument whose name is there already is never
/// written over, and every such name is told.
[[nodiscard]] Result<Outcome> run(const ImportRecord& command);

}  // namespace midspan::program
