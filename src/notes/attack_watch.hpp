// attack_watch.hpp: notices whenever it suddenly gets louder.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <array>
#include <optional>

#include "midspan/units.hpp"
#include "notes/frame_history.hpp"
#include "notes/noise_floor.hpp"

namespace midspan {

/// A sudden rise, of whatever origin.
struct Rise {
    FrameNumber begin;       ///< the first frame that is louder
    BandValues before;       ///< the loudest moment of each band in the 60 ms before
    bool above_lowest_band;  ///< whether another band rose than the lowest
};

/// Compares each band with itself: the last moment (one period of the lowest note, 15 ms at least) with the
/// loudest such moment of the 60 ms before it. Strings that ring do not rise, slow beating rises too slowly,
/// and beating faster than 15 Hz has had its peak within those 60 ms. It notices a rise of 2 dB; most of
/// what it notices is no pluck, and is for others to sort out.
class AttackWatch {
public:
    explicit AttackWatch(Hertz lowest);

    /// After every frame.
    [[nodiscard]] std::optional<Rise> look(const FrameHistory& history, const NoiseFloor& floor);

private:
    // As many moments as are looked back on, a period and a bit.
    static constexpr std::size_t kept = 32;
    static std::size_t slot(FrameNumber n) { return static_cast<std::size_t>(n) % kept; }

    FrameNumber moment_;                     // in frames
    std::array<BandValues, kept> levels_{};  // of the moment that ended with a frame
};

}  // namespace midspan
