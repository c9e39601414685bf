// command_predict.hpp: what other strings, tuning or heights will do.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include "midspan/advice/setup_prediction.hpp"
#include "midspan/view/look.hpp"
#include "program/given_instrument.hpp"
#include "program/outcome.hpp"
#include "program/setup_words.hpp"
#include "program/terminal.hpp"

namespace midspan::program {

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
