// command_devices.cpp: the inputs in plain words, or as JSON.
//
// Room: program. Edge: sound devices.
#include "program/command_devices.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "view/columns.hpp"

namespace midspan::program {
namespace {

std::string kilohertz(double hertz) { return fmt::format("{:g}", hertz / 1000.0); }

std::string channels_in_words(int channels) {
    if (channels == 1) return "mono";
    if (channels == 2) return "stereo";
    return fmt::format("{} channels", channels);
}

std::string offer_in_words(const InputDevice& device) {
    if (device.converts) return "any channels and rate: it converts";
    std::string rates;
    for (const int rate : device.rates)
        rates += (rates.empty() ? "" : ", ") + kilohertz(rate);
    if (device.rates.empty()) rates = kilohertz(device.own_rate.value());
    return fmt::format("{}, {} kHz", channels_in_words(device.channels), rates);
}

}  // namespace

std::string devices_text(std::span<const InputDevice> devices) {
    if (devices.empty()) return "No inputs.\n";
    std::string text =
        "Inputs; * is listened to unless --device names another, by number or part of its name\n\n";
    std::size_t widest = 0;
    for (const InputDevice& device : devices)
        widest = std::max(widest, columns(printable(device.name)));
    for (const InputDevice& device : devices) {
        text += fmt::format("{} {:2}  {}  {}, {}\n", device.is_default ? '*' : ' ', device.number,
                            padded(printable(device.name), widest), printable(device.system),
                            offer_in_words(device));
    }
    if (std::any_of(devices.begin(), devices.end(), [](const auto& device) { return device.converts; })) {
        text += '\n' + paragraph("",
                                 "An input that converts may bend all pitches alike, by up to 4 cents: the "
                                 "error at the 12th fret stays right, the tuning may not. Those of the "
                                 "hardware come first.");
    }
    return text;
}

std::string devices_json(std::span<const InputDevice> devices) {
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const InputDevice& device : devices) {
        list.push_back({{"device", device.number},
                        {"name", device.name},
                        {"system", device.system},
                        {"channels", device.channels},
                        {"own_rate_hz", device.own_rate.value()},
                        {"rates_hz", device.rates},
                        {"converts", device.converts},
                        {"default", device.is_default}});
    }
    const nlohmann::ordered_json all{{"schema", "midspan/devices/1"}, {"devices", list}};
    return all.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) + '\n';
}

Result<Outcome> devices(const DevicesOptions& options) {
    const auto found = input_devices();
    if (!found) return found.error();
    Outcome outcome{options.json ? devices_json(found.value()) : devices_text(found.value()), {}};
    if (const auto none = chosen_device(found.value(), {}); !none) outcome.error = none.error();
    return outcome;
}

}  // namespace midspan::program
