// fed_recording.hpp: a recording, block by block, into whatever listens to it.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include <fmt/format.h>

#include <cstddef>
#include <optional>
#include <utility>
#include <vector>

#include "midspan/sound/recording.hpp"
#include "program/terminal.hpp"

namespace midspan::program {

/// The string that a recording holds alone, if that was said: `strings` are empty, one for all recordings, or
/// one for each.
inline std::optional<int> string_of(const std::vector<int>& strings, std::size_t recording) {
    if (strings.empty()) return std::nullopt;
    return strings[strings.size() == 1 ? 0 : recording];
}

/// All of it into `listener`, which is a Measurement or a Survey; with what was odd about it as warnings of
/// recording `index`. `channel` must be one it has: a Fault::usage otherwise.
template <class Listener>
std::optional<Error> feed(Listener& listener, Recording& recording, std::optional<int> string, int index,
                          std::optional<int> channel, Progress& progress) {
    const AudioFormat format = recording.format();
    if (channel && *channel > format.channels) {
        return Error{Fault::usage, recording.path(), fmt::format("has no channel {}", *channel),
                     format.channels == 1 ? "it has one; leave --channel out"
                                          : fmt::format("give --channel 1 to {}", format.channels)};
    }
    std::optional<Seconds> total;
    if (const auto frames = recording.total_frames()) {
        total = Seconds{static_cast<double>(*frames) / format.sample_rate.value()};
    }
    listener.begin_recording(recording.path(), format, string);
    for (;;) {
        const Result<AudioBlock> block = recording.next();
        if (!block) return block.error();
        if (block.value().frames() == 0) break;
        listener.feed(block.value());
        progress.show(recording.path(), recording.duration_read(), total);
    }
    listener.end_recording();
    for (Warning warning : recording.warnings()) {
        warning.recording = index;
        listener.add_warning(std::move(warning));
    }
    return std::nullopt;
}

}  // namespace midspan::program
