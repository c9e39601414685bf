// port_audio.hpp: PortAudio, started and ended.
//
// Room: sound. Edge: sound devices. May include: ground.
#pragma once

#include <memory>
#include <string>

#include "midspan/result.hpp"

namespace midspan {

/// PortAudio runs as long as one of these lives.
class PortAudio {
public:
    /// Fails, with Fault::device, when there is no sound system to ask. The libraries below talk to standard
    /// error whenever they like, even when all is well: silence that before.
    [[nodiscard]] static Result<std::shared_ptr<const PortAudio>> start();

    ~PortAudio();
    PortAudio(const PortAudio&) = delete;
    PortAudio& operator=(const PortAudio&) = delete;

private:
    PortAudio() = default;
};

/// What PortAudio says of its error `number`, or what the system below said.
[[nodiscard]] std::string port_audio_says(int number);

}  // namespace midspan
