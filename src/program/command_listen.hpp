// command_listen.hpp: a microphone in, saddle moves out.
//
// Room: program. Edge: sound devices, the disk, the screen. May include: everything.
#pragma once

#include <optional>
#include <string>

#include "midspan/measurement/bench_session.hpp"
#include "midspan/result.hpp"
#include "midspan/view/look.hpp"
#include "program/given_instrument.hpp"
#include "program/outcome.hpp"
#include "program/reading_log.hpp"
#include "program/terminal.hpp"

namespace midspan::program {

struct ListenOptions {
    std::optional<std::string> device;  ///< a number or part of a name
    std::optional<std::string> keep;    ///< the sound file to write what was heard to
    GivenInstrument instrument;
    RecordUse record;
    BenchOptions bench;
    LengthUnit unit = LengthUnit::millimetres;
    bool json = false;
    bool say = false;
};

/// Listens until it is told to end (SIGINT, SIGTERM, SIGHUP) or the device is gone. Either way what was heard
/// is measured and told; a fault of the device, and no usable note, are told beside it.
[[nodiscard]] Result<Outcome> listen(const ListenOptions& options, const Screen& screen);

}  // namespace midspan::program
