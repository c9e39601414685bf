// command_analyze.hpp: recordings in, saddle moves out.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include <string>
#include <vector>

#include "midspan/measurement/measurement.hpp"
#include "midspan/result.hpp"
#include "midspan/view/look.hpp"
#include "program/given_instrument.hpp"
#include "program/outcome.hpp"
#include "program/reading_log.hpp"
#include "program/terminal.hpp"

namespace midspan::program {

struct AnalyzeOptions {
    std::vector<std::string> recordings;  ///< at least one; "-" is standard input
    std::vector<int> strings;             ///< which string they hold: none, one for all, or one a recording
    GivenInstrument instrument;
    RecordUse record;
    MeasurementOptions measurement;
    LengthUnit unit = LengthUnit::millimetres;
    bool json = false;
};

/// Feeds all recordings to one measurement and writes what it found. No usable note at all is an error told
/// beside the complete text.
[[nodiscard]] Result<Outcome> analyze(const AnalyzeOptions& options, const Screen& screen,
                                      Progress& progress);

}  // namespace midspan::program
