// take_analysis.hpp: what was heard in every recording, to the analysis of the instrument.
//
// Room: measurement, private. Pure. May include: ground, sound/audio_block, instrument to advice.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "measurement/channel_listener.hpp"
#include "midspan/measurement/analysis.hpp"
#include "midspan/sound/audio_block.hpp"

namespace midspan {

/// A note that stands out of the noise by less is hardly heard.
inline constexpr Decibels quiet{10.0};

/// The frequencies a string may sound at.
struct PitchRange {
    Hertz lowest;
    Hertz highest;
};

/// From the lowest open note to the highest octave, of all strings or of the only one there is, and three
/// semitones beyond.
[[nodiscard]] PitchRange pitch_range(const Instrument& instrument, std::optional<int> only);

struct ListenedRecording {
    std::string path;
    AudioFormat format;
    std::optional<int> string;  ///< the user said which string it holds
    std::uint64_t frames = 0;
    std::vector<ChannelListener> channels;
};

/// channel  the only one to listen to, 1 is the first; nothing: all of them
[[nodiscard]] ListenedRecording listen_to(std::string path, AudioFormat format, std::optional<int> string,
                                          std::optional<int> channel, Hertz lowest);

/// The channel that has most to say; of two alike the first.
[[nodiscard]] const ChannelListener& best_channel(const ListenedRecording& recording);

/// A note that must not take part in a comparison, although it has a pitch.
[[nodiscard]] bool worthless(const MeasuredPluck& pluck);

/// What is wrong with it, by name.
[[nodiscard]] std::vector<WarningCode> flaws_of(const MeasuredPluck& pluck);

/// One of those flaws, for a person: what it is and what to do.
[[nodiscard]] std::string flaw_in_words(WarningCode flaw);

struct AnalysisOptions {
    PluckOrder order;
    Cents tolerance;
    bool channel_chosen_by_user;
    std::span<const KnownScrew> screws;
};

/// Notes to strings, strings to pairs, pairs to advice.
///
/// left_out  plucks that take no part and no place in the order; they are listed all the same
/// warnings  what the sources had to say
[[nodiscard]] Analysis analyse_take(const Instrument& instrument, AnalysisOptions options,
                                    std::span<const ListenedRecording> recordings,
                                    std::vector<Warning> warnings,
                                    const std::function<bool(const MeasuredPluck&)>& left_out);

}  // namespace midspan
