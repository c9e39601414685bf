// microphone.hpp: a sound device, heard block by block.
//
// Room: sound. Edge: sound devices, the clock. May include: ground.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>

#include "midspan/result.hpp"
#include "midspan/sound/input_devices.hpp"
#include "midspan/sound/sound_source.hpp"
#include "midspan/units.hpp"
#include "midspan/warning.hpp"

namespace midspan {

struct MicrophoneOptions {
    std::optional<std::string> device;  ///< a number or part of a name; nothing: the default
    std::optional<int> channel;         ///< one that has to be among those heard, 1 the first
};

/// An input of the sound system, through PortAudio, at the rate the device runs at by itself.
///
/// Up to 10 s of sound wait in memory for next(); more is lost, and told of. Time is counted in frames, never
/// by a clock. One microphone at a time, used by one thread. As long as it lives, standard error of the whole
/// process leads nowhere, since the libraries below write to it at any moment.
class Microphone : public SoundSource {
public:
    /// Begins to listen. Two channels are opened where there are two, or as many as `channel` needs.
    ///
    /// Fails, with Fault::device, when there is no such device, it is busy, or offers no rate from 8,000 to
    /// 192,000 Hz; with Fault::usage when it has no such channel.
    [[nodiscard]] static Result<Microphone> open(const MicrophoneOptions& options);

    /// A device that does not let go within two seconds, as happens when its server died, is left to itself.
    ~Microphone() override;
    Microphone(Microphone&&) noexcept;
    Microphone& operator=(Microphone&&) noexcept;

    [[nodiscard]] const InputDevice& device() const;
    [[nodiscard]] AudioFormat format() const override;

    /// The next frames, at most 20 ms; waits for them. None after stop(), when all that was heard before has
    /// been given.
    ///
    /// Where samples were lost, one frame that is no number stands for them: no note can be measured across
    /// the gap.
    ///
    /// Fails, with Fault::device, when the device was unplugged, its server died, or nothing has come from it
    /// for more than a second; all that came before has been given by then.
    [[nodiscard]] Result<AudioBlock> next() override;

    /// Whether the frame that next() gave last stands for lost samples.
    [[nodiscard]] bool at_gap() const;

    /// Hears no more.
    void stop();

    /// How many frames next() has given.
    [[nodiscard]] std::int64_t frames_read() const;

    /// What is known to be wrong so far: `converting_device`, and `samples_lost` where they fell, those of
    /// one second together.
    [[nodiscard]] std::span<const Warning> warnings() const;

private:
    class Work;
    explicit Microphone(std::unique_ptr<Work> work);
    std::unique_ptr<Work> work_;
};

}  // namespace midspan
