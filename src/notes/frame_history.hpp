// frame_history.hpp: the levels of the last twenty seconds, a frame of 5 ms each.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <vector>

#include "midspan/units.hpp"
#include "notes/band_levels.hpp"
#include "notes/input_check.hpp"

namespace midspan {

inline constexpr Seconds frame_duration{0.005};

/// Counts frames since the start of the recording. What lies before it was silence.
using FrameNumber = std::int64_t;

/// As many frames as `duration` takes, rounded up.
[[nodiscard]] inline FrameNumber frames_in(Seconds duration) {
    return static_cast<FrameNumber>(std::ceil(duration / frame_duration - 1e-9));
}

struct Frame {
    BandValues in_band{};  ///< mean squares
    float total = 0.0F;    ///< mean square of all of it
    InputFlaws flaws;
};

/// Sum over the bands from `first` on.
[[nodiscard]] inline float sum_of(const BandValues& values, std::size_t first = 0) {
    float sum = 0.0F;
    for (std::size_t band = first; band < bands; ++band)
        sum += values[band];
    return sum;
}

class FrameHistory {
public:
    FrameHistory() : frames_(size) {}

    void push(const Frame& frame) { frames_[index(count_++)] = frame; }

    /// How many there have been: the number of the next one.
    [[nodiscard]] FrameNumber count() const { return count_; }

    [[nodiscard]] const Frame& at(FrameNumber n) const {
        static constexpr Frame silence{};
        assert(n < count_ && count_ - n <= size);
        return n < 0 ? silence : frames_[index(n)];
    }

    /// Mean of the frames from `begin` to before `end`.
    [[nodiscard]] BandValues mean(FrameNumber begin, FrameNumber end) const {
        assert(begin < end);
        BandValues sums{};
        for (FrameNumber n = begin; n < end; ++n) {
            for (std::size_t band = 0; band < bands; ++band)
                sums[band] += at(n).in_band[band];
        }
        for (float& sum : sums)
            sum /= static_cast<float>(end - begin);
        return sums;
    }

    /// The loudest two neighbouring frames (10 ms) from `begin` to before `end`, mean square.
    [[nodiscard]] float loudest(FrameNumber begin, FrameNumber end) const {
        float loudest = 0.0F;
        for (FrameNumber n = begin; n + 1 < end; ++n)
            loudest = std::max(loudest, 0.5F * (at(n).total + at(n + 1).total));
        return loudest;
    }

private:
    static constexpr FrameNumber size = 4096;
    static std::size_t index(FrameNumber n) { return static_cast<std::size_t>(n % size); }

    std::vector<Frame> frames_;
    FrameNumber count_ = 0;
};

}  // namespace midspan
