// noise_floor.hpp: how loud the quiet is.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include "notes/frame_history.hpp"

namespace midspan {

/// The quietest tenth of a second of late, in each band and altogether. It follows a quieter room at once
/// and a louder one by 3 dB a second, and not at all while a note rings. Never below -100 dBFS: what
/// is quieter than that is not told apart from silence.
class NoiseFloor {
public:
    /// After every frame.
    void follow(const FrameHistory& history, bool note_rings);

    /// What was taken for a note has been the quiet itself, up to before frame `end`.
    void learn(const FrameHistory& history, FrameNumber end);

    [[nodiscard]] const BandValues& in_band() const { return in_band_; }
    /// The loudest 10 ms of that quiet, mean square.
    [[nodiscard]] float loudest() const { return loudest_; }

private:
    BandValues in_band_{lowest, lowest, lowest, lowest};
    float loudest_ = lowest;
    bool known_ = false;  // whether any quiet has been heard

    static constexpr float lowest = 1e-10F;  // -100 dBFS
};

}  // namespace midspan
