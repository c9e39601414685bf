// stated_length.hpp: the length a sound file states in its own header, against the bytes that are there.
//
// Room: sound. Pure. May include: nothing.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <span>

namespace midspan {

/// Reads bytes of a file from `offset` on into `to`; returns how many there were.
using ReadAt = std::function<std::size_t(std::uint64_t offset, std::span<std::byte> to)>;

struct StatedLength {
    std::uint64_t stated_bytes;   ///< of samples, by the header
    std::uint64_t present_bytes;  ///< from the first sample to the end of the file
    std::uint64_t frame_bytes;    ///< one sample of every channel; 1 where the encoding has no such thing

    [[nodiscard]] bool ends_early() const { return present_bytes < stated_bytes; }
    [[nodiscard]] bool ends_in_mid_sample() const {
        return (ends_early() ? present_bytes : stated_bytes) % frame_bytes != 0;
    }
};

/// What the header of a RIFF, RF64 or AIFF file says; nothing for other files and damaged headers. A file
/// written as a stream, whose length field holds 0, or 0x7FFFF000 and more, is as long as it is.
///
/// libsndfile silently corrects a wrong length, so it has to be looked up here.
///
/// Source: Microsoft/IBM, Multimedia Programming Interface and Data Specifications 1.0 (1991), and EBU
/// Tech 3306 (RF64); Apple, Audio Interchange File Format 1.3 (1989); all from memory.
[[nodiscard]] std::optional<StatedLength> stated_length(const ReadAt& read_at, std::uint64_t file_bytes);

}  // namespace midspan
