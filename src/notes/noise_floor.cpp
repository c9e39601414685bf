// noise_floor.cpp: a minimum that forgets slowly.
//
// Room: notes. Pure. May include: ground.
#include "notes/noise_floor.hpp"

#include <algorithm>

namespace midspan {
namespace {

const FrameNumber looked_at = frames_in(Seconds{0.1});
constexpr float rise_per_frame = 1.00346F;  // 3 dB a second

float followed(float floor, float now, bool known, bool may_rise) {
    if (!known) return now;
    return std::min(may_rise ? floor * rise_per_frame : floor, now);
}

}  // namespace

void NoiseFloor::follow(const FrameHistory& history, bool note_rings) {
    // A recording that begins with a note says nothing about the quiet until that note is over.
    if (history.count() < looked_at || (note_rings && !known_)) return;
    const FrameNumber end = history.count();
    const BandValues now = history.mean(end - looked_at, end);
    for (std::size_t band = 0; band < bands; ++band)
        in_band_[band] = std::max(lowest, followed(in_band_[band], now[band], known_, !note_rings));
    loudest_ =
        std::max(lowest, followed(loudest_, history.loudest(end - looked_at, end), known_, !note_rings));
    known_ = true;
}

void NoiseFloor::learn(const FrameHistory& history, FrameNumber end) {
    in_band_ = history.mean(end - looked_at, end);
    for (float& level : in_band_)
        level = std::max(lowest, level);
    loudest_ = std::max(lowest, history.loudest(end - looked_at, end));
    known_ = true;
}

}  // namespace midspan
