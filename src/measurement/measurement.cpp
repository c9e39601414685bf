// measurement.cpp: sound in, analysis out; what a file and a microphone both feed.
//
// Room: measurement. Pure. May include: ground, sound/audio_block, instrument to advice.
#include "midspan/measurement/measurement.hpp"

#include <utility>

#include "measurement/channel_listener.hpp"
#include "measurement/take_analysis.hpp"

namespace midspan {

class Measurement::Work {
public:
    Work(Instrument instrument, MeasurementOptions options)
        : instrument_{std::move(instrument)}, options_{std::move(options)} {}

    void begin_recording(std::string path, AudioFormat format, std::optional<int> string) {
        const PitchRange range = pitch_range(instrument_, string);
        estimator_.emplace(range.lowest, range.highest);
        recordings_.push_back(listen_to(std::move(path), format, string, options_.channel, range.lowest));
    }

    void feed(const AudioBlock& block) {
        ListenedRecording& recording = recordings_.back();
        recording.frames += block.frames();
        for (ChannelListener& channel : recording.channels) {
            channel.feed(block, *estimator_);
        }
    }

    void end_recording() {
        for (ChannelListener& channel : recordings_.back().channels) {
            channel.finish(*estimator_);
        }
    }

    void add_warning(Warning warning) { source_warnings_.push_back(std::move(warning)); }

    [[nodiscard]] Analysis analysis() const {
        return analyse_take(
            instrument_, {options_.order, options_.tolerance, options_.channel.has_value(), options_.screws},
            recordings_, source_warnings_, [](const MeasuredPluck&) { return false; });
    }

private:
    Instrument instrument_;
    MeasurementOptions options_;
    std::optional<PitchEstimator> estimator_;
    std::vector<ListenedRecording> recordings_;
    std::vector<Warning> source_warnings_;
};

Measurement::Measurement(Instrument instrument, MeasurementOptions options)
    : work_{std::make_unique<Work>(std::move(instrument), std::move(options))} {}
Measurement::~Measurement() = default;
Measurement::Measurement(Measurement&&) noexcept = default;
Measurement& Measurement::operator=(Measurement&&) noexcept = default;

void Measurement::begin_recording(std::string path, AudioFormat format, std::optional<int> string) {
    work_->begin_recording(std::move(path), format, string);
}
void Measurement::feed(const AudioBlock& block) { work_->feed(block); }
void Measurement::end_recording() { work_->end_recording(); }
void Measurement::add_warning(Warning warning) { work_->add_warning(std::move(warning)); }
Analysis Measurement::analysis() const { return work_->analysis(); }

}  // namespace midspan
