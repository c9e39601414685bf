// device_choice.cpp: which of the inputs is meant.
//
// Room: sound. Edge: sound devices.
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <charconv>

#include "midspan/sound/input_devices.hpp"

namespace midspan {
namespace {

std::string lower(std::string_view text) {
    std::string result{text};
    std::transform(result.begin(), result.end(), result.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return result;
}

std::optional<int> whole_number(std::string_view text) {
    int number = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return number;
}

}  // namespace

Result<InputDevice> chosen_device(std::span<const InputDevice> devices,
                                  std::optional<std::string_view> wanted) {
    if (devices.empty()) {
        return Error{Fault::device, "sound system", "no input device",
                     "plug in a microphone or a sound card and run again"};
    }
    const auto number = wanted ? whole_number(*wanted) : std::nullopt;
    const auto found = std::find_if(devices.begin(), devices.end(), [&](const InputDevice& device) {
        if (!wanted) return device.is_default;
        if (number) return device.number == *number;
        return lower(device.system + ' ' + device.name).find(lower(*wanted)) != std::string::npos;
    });
    if (found != devices.end() && (!wanted || !wanted->empty())) return *found;
    return Error{Fault::device, fmt::format("input '{}'", wanted.value_or("")),
                 "no such input, or it is busy",
                 "end other programs that record, plug it in, and see midspan devices"};
}

std::string device_title(const InputDevice& device) {
    return fmt::format("input {} '{}'", device.number, device.name);
}

}  // namespace midspan
