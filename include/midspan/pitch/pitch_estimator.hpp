// pitch_estimator.hpp: one pluck to its pitch, with everything that is uncertain about it.
//
// Room: pitch. Pure. May include: ground, notes.
#pragma once

#include <memory>
#include <optional>
#include <span>

#include "midspan/notes/pluck.hpp"
#include "midspan/pitch/pitch_reading.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// Measures the pitch of plucks: autocorrelation for the coarse period, then a joint weighted nonlinear
/// least-squares fit of the partials in f, B, decay and tension glide. Holds its workspace, so use one
/// estimator a thread and keep it.
class PitchEstimator {
public:
    /// The range of frequencies a string may sound at, lowest < highest, 20 to 2,000 Hz. With the tuning
    /// known, three semitones beyond its notes.
    PitchEstimator(Hertz lowest, Hertz highest);
    ~PitchEstimator();
    PitchEstimator(PitchEstimator&&) noexcept;
    PitchEstimator& operator=(PitchEstimator&&) noexcept;

    /// The pitch of a pluck, finished or still ringing; nothing when it has no pitch (a dead note, a
    /// thump, a voice).
    [[nodiscard]] std::optional<PitchReading> estimate(const Pluck& pluck);

private:
    class Work;
    std::unique_ptr<Work> work_;
};

}  // namespace midspan
