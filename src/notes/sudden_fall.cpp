// sudden_fall.cpp: tells when a string is stopped.
//
// Room: notes. Pure. May include: ground.
#include "notes/sudden_fall.hpp"

#include <algorithm>
#include <cmath>

namespace midspan {
namespace {

const FrameNumber within = frames_in(Seconds{0.08});
const FrameNumber margin = frames_in(Seconds{0.01});
constexpr float well_heard = 6.0F;
constexpr float of_the_strongest = 0.01F;
constexpr float fallen_on_average = 0.1F;
constexpr float fallen_everywhere = 0.6F;
constexpr float begins_to_fall = 0.7F;

}  // namespace

LevelLeft level_left(const BandValues& before, const BandValues& now, const BandValues& quiet) {
    const float strongest = *std::max_element(before.begin(), before.end());
    float product = 1.0F;
    float most = 0.0F;
    int heard = 0;
    for (std::size_t band = 0; band < bands; ++band) {
        if (before[band] < well_heard * quiet[band] || before[band] < of_the_strongest * strongest) continue;
        const float left = now[band] / before[band];
        product *= left;
        most = std::max(most, left);
        ++heard;
    }
    if (heard == 0) return {};
    return {std::pow(product, 1.0F / static_cast<float>(heard)), most};
}

std::optional<FrameNumber> sudden_fall(const FrameHistory& history, const BandValues& quiet, FrameNumber n,
                                       FrameNumber over) {
    const FrameNumber before = n - within;
    const BandValues level = history.mean(before - 3, before + 1);
    const auto left_at = [&](FrameNumber at, FrameNumber width) {
        return level_left(level, history.mean(at + 1 - width, at + 1), quiet);
    };
    const LevelLeft left = left_at(n, over);
    if (left.on_average > fallen_on_average || left.most > fallen_everywhere) return std::nullopt;
    FrameNumber begin = before + 1;
    while (begin < n && left_at(begin, 2).on_average > begins_to_fall)
        ++begin;
    return begin - margin;
}

}  // namespace midspan
