// tone_remover.cpp: takes steady tones out of partials that have been brought to rest.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/tone_remover.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "pitch/blackman_harris.hpp"
#include "pitch/left_over.hpp"

namespace midspan {
namespace {

constexpr double tau = 2.0 * std::numbers::pi;
constexpr double fewest_turns = 4.0;
// Where nothing of a tone is seen under the window, in turns over the values.
constexpr std::array<double, 4> beside{-6.0, -5.0, 5.0, 6.0};
// Against what lies beside it, in power: less may be what the string's model leaves over.
constexpr double stands_out = 10.0;

}  // namespace

ToneRemover::ToneRemover() : tone_(PartialTracks::most_values), left_(PartialTracks::most_values) {}

void ToneRemover::take_out(const PartialTracks& raw, PartialTracks& tracks, std::size_t track, Hertz mains,
                           std::span<const std::complex<double>> left) {
    const auto settling = tracks.settling(raw, track);
    std::copy(left.begin(), left.end(), left_.begin());

    PartialTrack& from = tracks.tracks()[track];
    const double span = static_cast<double>(left.size()) * tracks.hop();
    const double reach = 1.0 / raw.hop();  // half of the window's main lobe
    const double first = std::max(1.0, std::ceil((from.centre - reach) / mains.value()));
    for (double tone = first * mains.value(); tone < from.centre + reach; tone += mains.value()) {
        // The track is too slow to tell turns that are a whole number a value more or less.
        const double turns = std::remainder((tone - from.centre) * tracks.hop(), 1.0) / tracks.hop() * span;
        if (std::abs(turns) < fewest_turns) continue;
        double power_beside = 0.0;
        for (const double away : beside) {
            lay_out(raw, tracks, track, settling, tone + away / span);
            power_beside += seen(left.size()).power / static_cast<double>(beside.size());
        }
        lay_out(raw, tracks, track, settling, tone);
        const Seen tone_seen = seen(left.size());
        if (!(tone_seen.power > stands_out * power_beside)) continue;
        for (std::size_t m = 0; m < tracks.length(); ++m) {
            const std::complex<double> taken = product(tone_seen.amplitude, tone_[m]);
            from.values[m] -= taken;
            if (m < left.size()) left_[m] -= taken;
        }
    }
}

void ToneRemover::lay_out(const PartialTracks& raw, const PartialTracks& tracks, std::size_t track,
                          std::span<const std::complex<double>> settling, double frequency) {
    const auto count = static_cast<std::size_t>(std::lround(tracks.hop() / raw.hop()));
    const double turn = tau * (frequency - raw.tracks()[track].centre);
    std::complex<double> turned = std::polar(1.0, turn * raw.time(0));
    const std::complex<double> step = std::polar(1.0, turn * raw.hop());
    std::fill_n(tone_.begin(), tracks.length(), std::complex<double>{});
    for (std::size_t m = 0; m < tracks.length() * count; ++m) {
        tone_[m / count] += product(settling[m], turned);
        turned = product(turned, step);
    }
}

// By least squares, under a window: what is left of the partial itself must not be taken for the tone.
ToneRemover::Seen ToneRemover::seen(std::size_t length) const {
    std::complex<double> common{};
    double power = 0.0;
    for (std::size_t m = 0; m < length; ++m) {
        const double weight = blackman_harris((static_cast<double>(m) + 0.5) / static_cast<double>(length));
        common += weight * turned_back(tone_[m], left_[m]);
        power += weight * std::norm(tone_[m]);
    }
    if (!(power > 0.0)) return {};
    return {common / power, std::norm(common) / power};
}

}  // namespace midspan
