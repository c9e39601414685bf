// command_line.hpp: the words of a command line, turned into values that make sense.
//
// Room: program. Pure. May include: everything.
#pragma once

#include <span>
#include <string>
#include <variant>

#include "midspan/result.hpp"
#include "program/command_analyze.hpp"
#include "program/command_devices.hpp"
#include "program/command_export.hpp"
#include "program/command_instrument.hpp"
#include "program/command_listen.hpp"
#include "program/command_predict.hpp"
#include "program/command_sheet.hpp"
#include "program/command_survey.hpp"
#include "program/command_visit.hpp"
#include "program/option.hpp"

namespace midspan::program {

struct ShowText {
    std::string text;  ///< help or version
};

using Command =
    std::variant<ShowText, AnalyzeOptions, DevicesOptions, ListenOptions, PredictOptions, AddInstrument,
                 ChangeInstrument, ListInstruments, ShowInstrument, DeleteInstrument, RestoreInstrument,
                 BeginVisit, NoteVisit, ListVisits, ShowVisit, MovedSaddle, RemoveItem, RestoreItem, Measure,
                 CompareVisits, ShowHistory, SurveyCommandOptions, WriteSheet, ExportRecord, ImportRecord>;

/// arguments  all behind the name of the program. What makes no sense is a Fault::usage.
[[nodiscard]] Result<Command> parse_command_line(std::span<const std::string> arguments);

/// The commands there are.
[[nodiscard]] std::span<const CommandDescription> commands();

}  // namespace midspan::program
