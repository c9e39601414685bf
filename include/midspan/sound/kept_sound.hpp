// kept_sound.hpp: what was heard, written to a file as it comes.
//
// Room: sound. Edge: the disk. May include: ground.
#pragma once

#include <memory>
#include <optional>
#include <string>

#include "midspan/result.hpp"
#include "midspan/sound/audio_block.hpp"

namespace midspan {

/// A sound file that grows: 32-bit float in a file named .wav, which holds every sample as it was heard, or
/// 24 bits in one named .flac, to which samples are rounded.
///
/// Every half second of sound the file is made whole, so that an end without warning costs less than a
/// second. A WAV file that ended so, or that is longer than 4 GB, is one in RF64.
class KeptSound {
public:
    /// Makes the file. One of that name must not exist yet: what was heard once cannot be heard again.
    ///
    /// Fails, with Fault::usage, for another kind of file or one that exists; with Fault::record when it
    /// cannot be written.
    [[nodiscard]] static Result<KeptSound> create(const std::string& path, AudioFormat format);

    ~KeptSound();
    KeptSound(KeptSound&&) noexcept;
    KeptSound& operator=(KeptSound&&) noexcept;

    /// Writes a block. Gives back what the file holds of it, for whoever wants to measure just that; frames
    /// that are no numbers stay so there, though FLAC can only hold silence in their place. Valid until the
    /// next call. Fails, with Fault::record, when the disk is full or gone.
    [[nodiscard]] Result<AudioBlock> keep(const AudioBlock& block);

    /// Ends the file. Fails as keep() does.
    [[nodiscard]] std::optional<Error> finish();

private:
    class Work;
    explicit KeptSound(std::unique_ptr<Work> work);
    std::unique_ptr<Work> work_;
};

}  // namespace midspan
