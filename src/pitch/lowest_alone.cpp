// lowest_alone.cpp: the lowest partial by itself, for strings whose partials do not keep together.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/lowest_alone.hpp"

#include <algorithm>
#include <cmath>

#include "pitch/left_over.hpp"

namespace midspan {
namespace {

// From the first to the second, what counts grows from nothing to all.
struct Range {
    double from;
    double to;
};

// How much better the lowest partial is explained alone than together with the others, dB.
constexpr Range better_alone{3.0, 9.0};
// What the whole string explains of all partials, dB: of hum and noise less is left than of a law that fails.
constexpr Range far_from_a_string{26.0, 18.0};
// How much of what it leaves hangs together.
constexpr Range much_structure{structured, 0.3};

// Of B, as partials tell it that do not keep to the law.
constexpr double least_doubt_of_inharmonicity = 5e-5;

double grown(double value, const Range& range) {
    const double x = std::clamp((value - range.from) / (range.to - range.from), 0.0, 1.0);
    return x * x * (3.0 - 2.0 * x);
}

}  // namespace

void LowestAlone::listen(StringFit& fit, const PartialTracks& tracks, const ModelChoice& whole,
                         double since_pluck) {
    weight_ = 0.0;
    if (whole.structure() < structured) return;
    const FoundPartial& together = whole.string().partials[0];
    fit.believe_inharmonicity(
        whole.string().law.inharmonicity,
        std::max(whole.string().deviations.inharmonicity, least_doubt_of_inharmonicity));
    fit.restart(tracks, StringLaw{whole.string().law}, tracks.tracks()[together.track].number,
                tracks.length());
    fit.run(tracks, tracks.length(), gliding, 20, closely);
    choice_.choose(fit, tracks, since_pluck);
    if (!std::isfinite(choice_.belief().log_lowest)) return;
    explained_ = signal_to_noise(choice_.string(), tracks);
    const double better = 10.0 * std::log10(together.variance / choice_.string().partials[0].variance);
    weight_ = std::max(grown(better, better_alone),
                       grown(whole.structure(), much_structure) *
                           grown(signal_to_noise(whole.string(), tracks).value(), far_from_a_string));
}

}  // namespace midspan
