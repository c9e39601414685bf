// input_devices.cpp: PortAudio's list, sorted and asked for rates.
//
// Room: sound. Edge: sound devices.
#include "midspan/sound/input_devices.hpp"

#include <portaudio.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "sound/port_audio.hpp"
#include "sound/silent_stderr.hpp"

namespace midspan {
namespace {

constexpr std::array usual_rates{8'000, 16'000, 22'050, 32'000, 44'100, 48'000, 88'200, 96'000, 192'000};

// Primes near the usual rates: no clock divides down to both.
constexpr std::array rates_of_no_hardware{44'179, 47'981};

bool offers(PaDeviceIndex index, int rate) {
    PaStreamParameters parameters{};
    parameters.device = index;
    parameters.channelCount = 1;
    parameters.sampleFormat = paFloat32;
    return Pa_IsFormatSupported(&parameters, nullptr, rate) == paFormatIsSupported;
}

std::optional<InputDevice> device_at(PaDeviceIndex index) {
    const PaDeviceInfo* info = Pa_GetDeviceInfo(index);
    if (info == nullptr || info->maxInputChannels < 1) return std::nullopt;
    const PaHostApiInfo* system = Pa_GetHostApiInfo(info->hostApi);
    InputDevice device{0,
                       info->name,
                       system != nullptr ? system->name : "",
                       info->maxInputChannels,
                       Hertz{info->defaultSampleRate},
                       {},
                       false,
                       false,
                       index};
    const auto own = static_cast<int>(std::lround(info->defaultSampleRate));
    std::set<int> rates(usual_rates.begin(), usual_rates.end());
    rates.insert(own);
    for (const int rate : rates) {
        if (offers(index, rate)) device.rates.push_back(rate);
    }
    device.converts = std::all_of(rates_of_no_hardware.begin(), rates_of_no_hardware.end(),
                                  [index](int rate) { return offers(index, rate); });
    return device;
}

/// The system's own choice, unless that converts and there is hardware to be had.
void mark_default(std::vector<InputDevice>& devices) {
    if (devices.empty()) return;
    const PaDeviceIndex usual = Pa_GetDefaultInputDevice();
    const auto found = std::find_if(devices.begin(), devices.end(),
                                    [usual](const auto& device) { return device.library_index == usual; });
    const bool take_usual = found != devices.end() && (!found->converts || devices.front().converts);
    (take_usual ? *found : devices.front()).is_default = true;
}

}  // namespace

Result<std::vector<InputDevice>> input_devices() {
    const SilentStderr silence;
    const auto library = PortAudio::start();
    if (!library) return library.error();
    std::vector<InputDevice> devices;
    for (PaDeviceIndex index = 0; index < Pa_GetDeviceCount(); ++index) {
        if (auto device = device_at(index)) devices.push_back(*std::move(device));
    }
    std::stable_partition(devices.begin(), devices.end(),
                          [](const auto& device) { return !device.converts; });
    for (std::size_t i = 0; i < devices.size(); ++i)
        devices[i].number = static_cast<int>(i) + 1;
    mark_default(devices);
    return devices;
}

}  // namespace midspan
