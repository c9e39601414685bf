// command_survey.hpp: plucks along the neck in, what is wrong with it out.
//
// Room: program. Edge: the disk, sound devices. May include: everything.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "midspan/measurement/survey.hpp"
#include "midspan/result.hpp"
#include "midspan/view/look.hpp"
#include "program/given_instrument.hpp"
#include "program/outcome.hpp"
#include "program/reading_log.hpp"
#include "program/setup_words.hpp"
#include "program/terminal.hpp"

namespace midspan::program {

struct SurveyCommandOptions {
    std::vector<std::string> recordings;  ///< "-" is standard input; none when listening
    std::vector<int> strings;             ///< which string they hold: none, one for all, or one a recording
    bool listen = false;                  ///< from the microphone, until Ctrl-C
    std::optional<std::string> device;    ///< to listen to
    GivenInstrument instrument;
    SetupWords setup;  ///< strings and heights that were said; they stand above those of the record
    SurveyOptions survey;
    bool frets_said = false;   ///< else they are those the record has, if it has any
    bool bridge_said = false;  ///< likewise
    RecordUse record{};
    std::optional<std::string> target;   ///< a file of cents a fret
    std::optional<std::string> picture;  ///< an SVG file to write the map to
    LengthUnit unit = LengthUnit::millimetres;
    bool json = false;
};

/// Feeds all recordings, or the microphone, to one survey and writes what it found.
[[nodiscard]] Result<Outcome> survey(const SurveyCommandOptions& options, const Screen& screen,
                                     Progress& progress);

/// The targets in the text of a file: a line for each fret, "7 -1.5", fret and cents; # begins a comment.
/// What makes no sense is a Fault::input that names file and line.
[[nodiscard]] Result<std::vector<FretTarget>> parse_targets(std::string_view text, const std::string& file);

}  // namespace midspan::program
