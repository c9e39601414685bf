// command_sheet.hpp: a visit from the record onto paper.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include <optional>
#include <string>

#include "midspan/result.hpp"
#include "midspan/view/look.hpp"
#include "program/opened_record.hpp"
#include "program/outcome.hpp"

namespace midspan::program {

struct WriteSheet {
    RecordFile record;
    std::optional<std::string> instrument;  ///< nothing: the only one there is
    std::optional<int> visit;               ///< nothing: the last
    std::string output = "-";               ///< "-" is standard output
    LengthUnit unit = LengthUnit::millimetres;
    bool pictures_alone = false;
};

/// Writes the sheet of one visit as HTML, or its pictures as SVG.
[[nodiscard]] Result<Outcome> run(const WriteSheet& command);

}  // namespace midspan::program
