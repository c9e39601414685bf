// measurement.hpp: sound in, analysis out; what a file and a microphone both feed.
//
// Room: measurement. Pure. May include: ground, sound/audio_block, instrument to advice.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "midspan/measurement/analysis.hpp"
#include "midspan/sound/audio_block.hpp"

namespace midspan {

struct MeasurementOptions {
    PluckOrder order = PluckOrder::alternate;
    Cents tolerance = default_tolerance;
    std::optional<int> channel;      ///< 1 is the first; nothing: chosen by signal
    std::vector<KnownScrew> screws;  ///< at most one a string
};

/// One measurement of one instrument, from any number of recordings, fed block by block.
class Measurement {
public:
    Measurement(Instrument instrument, MeasurementOptions options);
    ~Measurement();
    Measurement(Measurement&&) noexcept;
    Measurement& operator=(Measurement&&) noexcept;

    /// A recording begins. `string`: the string it holds, if the user said so.
    void begin_recording(std::string path, AudioFormat format, std::optional<int> string);

    void feed(const AudioBlock& block);

    /// It has ended; a note that still rings is measured as far as it goes.
    void end_recording();

    /// Something the source knew and the samples do not show.
    void add_warning(Warning warning);

    /// All that is known so far.
    [[nodiscard]] Analysis analysis() const;

private:
    class Work;
    std::unique_ptr<Work> work_;
};

}  // namespace midspan
