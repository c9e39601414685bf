// channel_listener.cpp: one channel of a recording, from samples to measured plucks.
//
// Room: measurement. Pure. May include: ground, sound/audio_block, instrument to advice.
#include "measurement/channel_listener.hpp"

#include <algorithm>
#include <cassert>
#include <utility>

namespace midspan {

ChannelListener::ChannelListener(int channel, Hertz sample_rate, Hertz lowest)
    : channel_{channel}, finder_{std::in_place, sample_rate, lowest} {}

void ChannelListener::feed(const AudioBlock& block, PitchEstimator& estimator) {
    assert(channel_ < block.channels);
    const auto found = [&](const Pluck& pluck) { measure(pluck, estimator); };
    if (block.channels == 1) {
        finder_->feed(block.samples, found);
        return;
    }
    const std::size_t frames = block.frames();
    const auto channels = static_cast<std::size_t>(block.channels);
    samples_.resize(frames);
    for (std::size_t i = 0; i < frames; ++i) {
        samples_[i] = block.samples[i * channels + static_cast<std::size_t>(channel_)];
    }
    finder_->feed(samples_, found);
}

void ChannelListener::finish(PitchEstimator& estimator) {
    finder_->finish([&](const Pluck& pluck) { measure(pluck, estimator); });
    finder_.reset();
}

void ChannelListener::measure(const Pluck& pluck, PitchEstimator& estimator) {
    MeasuredPluck measured{pluck.start, pluck.level, pluck.noise_level, pluck.flaws, pluck.usable_duration(),
                           {}};
    // A note that is void for a comparison is measured all the same: it keeps its place in the order.
    if (!pluck.flaws.too_short) measured.reading = estimator.estimate(pluck);
    plucks_.push_back(measured);
}

int ChannelListener::readings() const {
    return static_cast<int>(
        std::count_if(plucks_.begin(), plucks_.end(), [](const auto& p) { return p.reading.has_value(); }));
}

Decibels ChannelListener::clarity() const {
    double sum = 0.0;
    for (const MeasuredPluck& pluck : plucks_) {
        if (pluck.reading) sum += pluck.reading->signal_to_noise.value();
    }
    return Decibels{readings() == 0 ? 0.0 : sum / readings()};
}

}  // namespace midspan
