// no_microphone.cpp: stands in for sound devices where midspan was built without them.
//
// Room: sound. Pure.
#include <cstdlib>

#include "midspan/sound/input_devices.hpp"
#include "midspan/sound/microphone.hpp"

namespace midspan {
namespace {

Error built_without() {
    return {Fault::device, "sound system", "this midspan was built without sound devices",
            "record the plucks and run midspan analyze, or build with MIDSPAN_MICROPHONE"};
}

}  // namespace

Result<std::vector<InputDevice>> input_devices() { return built_without(); }

/// Of which there are none.
class Microphone::Work {};

Result<Microphone> Microphone::open(const MicrophoneOptions&) { return built_without(); }

Microphone::Microphone(std::unique_ptr<Work> work) : work_{std::move(work)} {}
Microphone::~Microphone() = default;
Microphone::Microphone(Microphone&&) noexcept = default;
Microphone& Microphone::operator=(Microphone&&) noexcept = default;

const InputDevice& Microphone::device() const { std::abort(); }
AudioFormat Microphone::format() const { std::abort(); }
Result<AudioBlock> Microphone::next() { return built_without(); }
bool Microphone::at_gap() const { return false; }
void Microphone::stop() {}
std::int64_t Microphone::frames_read() const { return 0; }
std::span<const Warning> Microphone::warnings() const { return {}; }

}  // namespace midspan
