// command_predict.hpp: what other strings, tuning or heights will do.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "midspan/advice/setup_prediction.hpp"
#include "midspan/view/look.hpp"
#include "program/given_instrument.hpp"
#include "program/outcome.hpp"
#include "program/terminal.hpp"

namespace midspan::program {

/// What can be said of one setup; what was not said stays as it is.
struct SetupWords {
    std::vector<StringGauge> gauges;  ///< as they were given
    std::optional<std::string> tuning;
    std::optional<Millimetres> action, nut_height, relief;
};

struct PredictOptions {
    GivenInstrument instrument;
    SetupWords from;
    SetupWords to;
    LengthUnit unit = LengthUnit::millimetres;
    bool json = false;
};

/// Predicts the change from one setup to the other; without a change, the one setup.
[[nodiscard]] Result<Outcome> predict(const PredictOptions& options, const Screen& screen);

}  // namespace midspan::program
