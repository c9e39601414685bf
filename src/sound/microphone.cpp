// microphone.cpp: a PortAudio stream whose callback copies, and a watch on whether it still comes.
//
// Room: sound. Edge: sound devices, the clock.
#include "midspan/sound/microphone.hpp"

#include <fmt/format.h>
#include <portaudio.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <cmath>
#include <future>
#include <limits>
#include <thread>
#include <utility>
#include <vector>

#include "sound/block_ring.hpp"
#include "sound/port_audio.hpp"
#include "sound/silent_stderr.hpp"

namespace midspan {
namespace {

constexpr int lowest_rate = 8'000;
constexpr int highest_rate = 192'000;
constexpr unsigned long frames_per_block = 512;
constexpr double waiting_room_s = 10.0;
constexpr int usual_channels = 2;

// A busy machine delays callbacks by up to 0.1 s; with less latency than that, samples are lost.
constexpr double least_latency_s = 0.1;

// Patience is counted in looks and not by a clock, so that a process which was itself stopped for a while
// does not blame the device.
constexpr std::chrono::milliseconds between_looks{5};
constexpr int patience_looks = 300;        // 1.5 s
constexpr int first_patience_looks = 600;  // sound servers take their time to begin
constexpr std::chrono::seconds letting_go{2};

/// Whatever the callback and a device that does not let go may still touch.
struct Listening {
    std::shared_ptr<const PortAudio> library;
    BlockRing ring;
    int channels;
    PaStream* stream = nullptr;
    std::atomic<bool> can_be_opened_again{false};
};

int take_sound(const void* input, void*, unsigned long frames, const PaStreamCallbackTimeInfo*,
               PaStreamCallbackFlags flags, void* user) {
    auto& listening = *static_cast<Listening*>(user);
    const std::size_t samples = frames * static_cast<std::size_t>(listening.channels);
    const bool lost = (flags & paInputOverflow) != 0;
    if (input != nullptr) listening.ring.write({static_cast<const float*>(input), samples}, lost);
    return paContinue;
}

PaStreamParameters parameters_of(const InputDevice& device, int channels) {
    const PaDeviceInfo* info = Pa_GetDeviceInfo(device.library_index);
    PaStreamParameters parameters{};
    parameters.device = device.library_index;
    parameters.channelCount = channels;
    parameters.sampleFormat = paFloat32;
    parameters.suggestedLatency =
        std::max(least_latency_s, info != nullptr ? info->defaultHighInputLatency : 0.0);
    return parameters;
}

/// The rate to open a device at: its own, or the nearest above that it offers.
std::optional<int> rate_of(const InputDevice& device) {
    const auto own = static_cast<int>(std::lround(device.own_rate.value()));
    if (own >= lowest_rate && own <= highest_rate) return own;
    for (const int rate : {48'000, 44'100, 96'000}) {
        if (std::find(device.rates.begin(), device.rates.end(), rate) != device.rates.end()) return rate;
    }
    return std::nullopt;
}

Error device_error(const InputDevice& device, std::string problem, std::string remedy) {
    return {Fault::device, device_title(device), std::move(problem), std::move(remedy)};
}

Error open_error(const InputDevice& device, PaError error) {
    switch (error) {
        case paInvalidSampleRate:
        case paInvalidChannelCount:
        case paSampleFormatNotSupported:
            return device_error(device,
                                fmt::format("does not offer what it lists ({})", port_audio_says(error)),
                                "plug it in anew, or choose another input, see midspan devices");
        default:
            return device_error(device, fmt::format("cannot be opened ({})", port_audio_says(error)),
                                "end other programs that record, or choose another input");
    }
}

}  // namespace

class Microphone::Work {
public:
    Work(InputDevice device, AudioFormat format, std::unique_ptr<SilentStderr> silence,
         std::shared_ptr<Listening> listening)
        : silence_{std::move(silence)},
          device_{std::move(device)},
          format_{format},
          listening_{std::move(listening)},
          no_number_(static_cast<std::size_t>(format.channels), std::numeric_limits<float>::quiet_NaN()) {
        if (!device_.converts) return;
        warnings_.push_back(
            {WarningCode::converting_device, std::nullopt, std::nullopt, std::nullopt,
             fmt::format("{} may convert the sound and bend all pitches alike, by up to 4 cents; that leaves "
                         "the error right, but not the tuning; a hardware input does not bend",
                         device_title(device_))});
    }
    ~Work() { let_go(); }

    Result<AudioBlock> next() {
        if (given_) listening_->ring.drop_front();
        given_ = false;
        for (int looks = 0;;) {
            if (const auto block = listening_->ring.front()) return give(*block);
            if (!open_) return AudioBlock{{}, format_.channels};
            const bool active = Pa_IsStreamActive(listening_->stream) == 1;
            if (!active && listening_->ring.front()) continue;
            if (!active || looks == (frames_read_ == 0 ? first_patience_looks : patience_looks)) {
                return loss_of_device(active);
            }
            ++looks;
            std::this_thread::sleep_for(between_looks);
        }
    }

    [[nodiscard]] bool at_gap() const { return gap_given_; }

    void stop() { let_go(); }

    [[nodiscard]] const InputDevice& device() const { return device_; }
    [[nodiscard]] AudioFormat format() const { return format_; }
    [[nodiscard]] std::int64_t frames_read() const { return frames_read_; }
    [[nodiscard]] std::span<const Warning> warnings() const { return warnings_; }

private:
    AudioBlock give(const BlockRing::Block& block) {
        if (block.gap_before && !gap_given_) {
            gap_given_ = true;
            warn_of_gap();
            frames_read_ += 1;
            return {no_number_, format_.channels};
        }
        gap_given_ = false;
        given_ = true;
        const AudioBlock sound{block.samples, format_.channels};
        frames_read_ += static_cast<std::int64_t>(sound.frames());
        return sound;
    }

    void warn_of_gap() {
        const Seconds now{static_cast<double>(frames_read_) / format_.sample_rate.value()};
        const bool told = last_gap_ && now - *last_gap_ < Seconds{1.0};
        last_gap_ = now;
        if (told) return;
        warnings_.push_back({WarningCode::samples_lost, now, std::nullopt, std::nullopt,
                             "samples were lost on the way in, and the note they fell into is left out; "
                             "end other programs that keep the machine busy"});
    }

    Error loss_of_device(bool active) {
        let_go();
        const double after = static_cast<double>(frames_read_) / format_.sample_rate.value();
        if (frames_read_ == 0) {
            return device_error(device_, "gives no sound", "choose another input, see midspan devices");
        }
        // A driver may end the stream when its device is pulled out, or keep it and give nothing: what tells
        // is whether the device is still there.
        const bool gone = !listening_->can_be_opened_again;
        const char* how = "no more sound";
        const char* remedy = "plug it in anew and run again";
        if (gone && !device_.converts) {
            how = "unplugged";
            remedy = "plug it in and run again";
        } else if (gone || !active) {
            how = "closed by the sound system";
            remedy = "check the sound server and run again";
        }
        return device_error(device_, fmt::format("{} after {:.0f} s", how, after),
                            fmt::format("what was heard is kept, {}", remedy));
    }

    // PortAudio may wait for ever for a server that has died, so that it is asked to end from another
    // thread; what that thread needs lives as long as it does.
    void let_go() {
        if (!std::exchange(open_, false)) return;
        std::promise<void> ended;
        const std::future<void> end = ended.get_future();
        const PaStreamParameters parameters = parameters_of(device_, format_.channels);
        std::thread{[listening = listening_, parameters, rate = format_.sample_rate.value(),
                     ended = std::move(ended)]() mutable {
            Pa_AbortStream(listening->stream);
            Pa_CloseStream(listening->stream);
            listening->can_be_opened_again =
                Pa_IsFormatSupported(&parameters, nullptr, rate) == paFormatIsSupported;
            listening.reset();  // so that whoever waits is the last to need the library
            ended.set_value();
        }}.detach();
        end.wait_for(letting_go);
    }

    std::unique_ptr<SilentStderr> silence_;  // outlives all that may talk
    InputDevice device_;
    AudioFormat format_;
    std::shared_ptr<Listening> listening_;
    std::vector<float> no_number_;
    bool open_ = true;
    bool given_ = false;      // the front of the ring has been handed out
    bool gap_given_ = false;  // and so has the gap before it
    std::optional<Seconds> last_gap_;
    std::int64_t frames_read_ = 0;
    std::vector<Warning> warnings_;
};

Result<Microphone> Microphone::open(const MicrophoneOptions& options) {
    auto silence = std::make_unique<SilentStderr>();
    auto library = PortAudio::start();
    if (!library) return library.error();
    const auto devices = input_devices();
    if (!devices) return devices.error();
    const auto chosen = chosen_device(devices.value(), options.device);
    if (!chosen) return chosen.error();
    const InputDevice& device = chosen.value();

    if (options.channel && *options.channel > device.channels) {
        return Error{Fault::usage, device_title(device), fmt::format("has no channel {}", *options.channel),
                     device.channels == 1 ? "it has one; leave --channel out"
                                          : fmt::format("give --channel 1 to {}", device.channels)};
    }
    const int channels = std::min(device.channels, std::max(usual_channels, options.channel.value_or(1)));
    const auto rate = rate_of(device);
    if (!rate) {
        return device_error(device, fmt::format("offers no rate from {} to {} Hz", lowest_rate, highest_rate),
                            "choose another input, see midspan devices");
    }

    const auto blocks = static_cast<std::size_t>(std::ceil(waiting_room_s * *rate / frames_per_block));
    auto listening = std::shared_ptr<Listening>{
        new Listening{library.value(), BlockRing{blocks, frames_per_block, channels}, channels}};
    const PaStreamParameters parameters = parameters_of(device, channels);
    PaError error = Pa_OpenStream(&listening->stream, &parameters, nullptr, *rate, frames_per_block, paNoFlag,
                                  take_sound, listening.get());
    if (error != paNoError) return open_error(device, error);
    // From here on the stream is closed by Work.
    const AudioFormat format{Hertz{static_cast<double>(*rate)}, channels};
    auto work = std::make_unique<Work>(device, format, std::move(silence), listening);
    error = Pa_StartStream(listening->stream);
    if (error != paNoError) return open_error(device, error);
    return Microphone{std::move(work)};
}

Microphone::Microphone(std::unique_ptr<Work> work) : work_{std::move(work)} {}
Microphone::~Microphone() = default;
Microphone::Microphone(Microphone&&) noexcept = default;
Microphone& Microphone::operator=(Microphone&&) noexcept = default;

const InputDevice& Microphone::device() const { return work_->device(); }
AudioFormat Microphone::format() const { return work_->format(); }
Result<AudioBlock> Microphone::next() { return work_->next(); }
bool Microphone::at_gap() const { return work_->at_gap(); }
void Microphone::stop() { work_->stop(); }
std::int64_t Microphone::frames_read() const { return work_->frames_read(); }
std::span<const Warning> Microphone::warnings() const { return work_->warnings(); }

}  // namespace midspan
