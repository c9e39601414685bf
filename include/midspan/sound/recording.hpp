// recording.hpp: a sound file, read block by block.
//
// Room: sound. Edge: the disk. May include: ground.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>

#include "midspan/result.hpp"
#include "midspan/sound/sound_source.hpp"
#include "midspan/units.hpp"
#include "midspan/warning.hpp"

namespace midspan {

/// A recording in any format libsndfile opens (WAV of 8, 16, 24, 32 bits or float, RF64, AIFF, FLAC, Ogg),
/// 8,000 to 192,000 Hz, any number of channels.
///
/// At most 8,192 frames are in memory at a time, however long the recording. Samples come as they are in the
/// file: integers scaled to +-1, floats untouched, even beyond +-1 or not finite.
class Recording : public SoundSource {
public:
    /// Opens a file for reading; "-" is standard input. What cannot be wound back (a pipe) is first copied to
    /// a temporary file that nobody else sees, and so blocks until its end.
    ///
    /// Fails, with Fault::input, when there is no such file or it may not be read, is a folder or a device,
    /// is empty, is not sound, is damaged beyond use, holds not a single frame, or has another sample rate.
    [[nodiscard]] static Result<Recording> open(const std::string& path);

    ~Recording() override;
    Recording(Recording&&) noexcept;
    Recording& operator=(Recording&&) noexcept;

    [[nodiscard]] AudioFormat format() const override;

    /// The next frames, 8,192 at most; none at the end. Fails when nothing at all can be decoded.
    [[nodiscard]] Result<AudioBlock> next() override;

    /// As it was given to open().
    [[nodiscard]] const std::string& path() const;

    /// How many frames there will be, if the file knows.
    [[nodiscard]] std::optional<std::int64_t> total_frames() const;

    /// How many have been read so far.
    [[nodiscard]] std::int64_t frames_read() const;

    /// How long that is.
    [[nodiscard]] Seconds duration_read() const;

    /// What was found wrong by the end: `truncated` when the file ends earlier than it says itself, or in the
    /// middle of a sample, or cannot be decoded further. What comes before has been given all the same.
    ///
    /// A WAV or AIFF file that was written as a stream, with no length in its header (0, or 0x7FFFF000 bytes
    /// and more), ends wherever it ends; so a file of more than 2 GB without RF64 is not checked either.
    [[nodiscard]] std::span<const Warning> warnings() const;

private:
    class Work;
    explicit Recording(std::unique_ptr<Work> work);
    std::unique_ptr<Work> work_;
};

}  // namespace midspan
