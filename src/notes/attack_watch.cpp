// attack_watch.cpp: the last moment against the loudest of those before.
//
// Room: notes. Pure. May include: ground.
#include "notes/attack_watch.hpp"

#include <algorithm>

namespace midspan {
namespace {

const FrameNumber looked_back = frames_in(Seconds{0.06});
constexpr float rise_noticed = 1.6F;  // 2 dB
// Above the quietest of the quiet, which a narrow band of noise leaves further behind than a wide one.
constexpr BandValues above_floor{8.0F, 6.0F, 4.0F, 4.0F};

}  // namespace

// One period, so that a low note's own pulses are no rises.
AttackWatch::AttackWatch(Hertz lowest)
    : moment_{std::clamp(frames_in(Seconds{1.0 / lowest.value()}), FrameNumber{3}, FrameNumber{10})} {}

std::optional<Rise> AttackWatch::look(const FrameHistory& history, const NoiseFloor& floor) {
    const FrameNumber newest = history.count() - 1;
    const FrameNumber begin = newest + 1 - moment_;
    const BandValues now = history.mean(begin, newest + 1);
    levels_[slot(newest)] = now;

    Rise rise{begin, {}, false};
    for (FrameNumber n = std::max<FrameNumber>(0, begin - looked_back); n < begin; ++n) {
        for (std::size_t band = 0; band < bands; ++band)
            rise.before[band] = std::max(rise.before[band], levels_[slot(n)][band]);
    }
    std::size_t steepest = 0;
    float steepest_rise = 0.0F;
    for (std::size_t band = 0; band < bands; ++band) {
        const float quiet = floor.in_band()[band];
        const float risen = now[band] / std::max(rise.before[band], quiet);
        if (risen < rise_noticed || now[band] < above_floor[band] * quiet) continue;
        if (band > 0) rise.above_lowest_band = true;
        if (risen > steepest_rise) {
            steepest_rise = risen;
            steepest = band;
        }
    }
    if (steepest_rise == 0.0F) return std::nullopt;
    const float least = rise.before[steepest] + 0.3F * (now[steepest] - rise.before[steepest]);
    while (rise.begin < newest && history.at(rise.begin).in_band[steepest] < least)
        ++rise.begin;
    return rise;
}

}  // namespace midspan
