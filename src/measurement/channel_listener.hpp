// channel_listener.hpp: one channel of a recording, from samples to measured plucks.
//
// Room: measurement. Pure. May include: ground, sound/audio_block, instrument to advice.
#pragma once

#include <optional>
#include <vector>

#include "midspan/notes/pluck_finder.hpp"
#include "midspan/pitch/pitch_estimator.hpp"
#include "midspan/sound/audio_block.hpp"

namespace midspan {

/// What stays of a pluck when its samples are gone.
struct MeasuredPluck {
    Seconds start;
    Decibels level;
    Decibels noise_level;
    PluckFlaws flaws;
    Seconds usable_duration;
    std::optional<PitchReading> reading;
};

/// Finds and measures the plucks of one channel.
class ChannelListener {
public:
    /// channel  0 is the first
    /// lowest   the lowest frequency a string may sound at
    ChannelListener(int channel, Hertz sample_rate, Hertz lowest);

    void feed(const AudioBlock& block, PitchEstimator& estimator);
    void finish(PitchEstimator& estimator);

    /// The pluck that rings now, as far as it has come; nothing after finish().
    [[nodiscard]] std::optional<Pluck> ringing() const { return finder_ ? finder_->ringing() : std::nullopt; }

    [[nodiscard]] int channel() const { return channel_; }
    [[nodiscard]] const std::vector<MeasuredPluck>& plucks() const { return plucks_; }

    /// How much this channel has to say: plucks with a pitch first, then how clear they are.
    [[nodiscard]] int readings() const;
    [[nodiscard]] Decibels clarity() const;

private:
    void measure(const Pluck& pluck, PitchEstimator& estimator);

    int channel_;
    std::optional<PluckFinder> finder_;  // given back at the end: it holds ten seconds of sound
    std::vector<float> samples_;
    std::vector<MeasuredPluck> plucks_;
};

}  // namespace midspan
