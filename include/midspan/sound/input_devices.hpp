// input_devices.hpp: the microphones and inputs there are, and which of them is meant.
//
// Room: sound. Edge: sound devices. May include: ground.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "midspan/result.hpp"
#include "midspan/units.hpp"

namespace midspan {

struct InputDevice {
    int number;              ///< as listed, 1 the first
    std::string name;        ///< as the sound system gives it
    std::string system;      ///< the sound system it belongs to: "ALSA", ...
    int channels;            ///< the most it offers
    Hertz own_rate;          ///< what it runs at unless told otherwise
    std::vector<int> rates;  ///< which of the usual rates and its own it offers, Hz, ascending; none: it
                             ///< could not be asked
    bool converts;           ///< it takes any rate, so something may convert before the sound arrives
    bool is_default;         ///< the one that is listened to when none is named
    int library_index;       ///< PortAudio's own number, for as long as no device comes or goes
};

/// All inputs, those of the hardware before those that convert. Each is opened for a moment to learn its
/// rates; standard error of the process leads nowhere meanwhile.
///
/// A device that takes a rate which no hardware is built for converts: its own rate is a guess of the sound
/// system, and the sound may come from a card that runs at another.
///
/// Fails, with Fault::device, when there is no sound system. No devices at all are an empty list.
[[nodiscard]] Result<std::vector<InputDevice>> input_devices();

/// The device that is meant by `wanted`: its number, or a part of its name or of its system's, whatever the
/// case; the first that fits. Nothing: the default. Fails, with Fault::device, when there is none.
[[nodiscard]] Result<InputDevice> chosen_device(std::span<const InputDevice> devices,
                                                std::optional<std::string_view> wanted);

/// "input 3 'USB Audio'"
[[nodiscard]] std::string device_title(const InputDevice& device);

}  // namespace midspan
