// command_devices.hpp: which inputs there are to listen to.
//
// Room: program. Edge: sound devices. May include: everything.
#pragma once

#include <span>
#include <string>

#include "midspan/result.hpp"
#include "midspan/sound/input_devices.hpp"
#include "program/outcome.hpp"

namespace midspan::program {

struct DevicesOptions {
    bool json = false;
};

/// Lists the inputs. None at all is an error told beside the empty list.
[[nodiscard]] Result<Outcome> devices(const DevicesOptions& options);

/// What a person reads of them.
[[nodiscard]] std::string devices_text(std::span<const InputDevice> devices);

/// One JSON object, schema midspan/devices/1.
[[nodiscard]] std::string devices_json(std::span<const InputDevice> devices);

}  // namespace midspan::program
