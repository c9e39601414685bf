// pitch_doubt.cpp: how far a pitch may be off: scatter, and what no model of a string knows.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/pitch_doubt.hpp"

#include <algorithm>
#include <cmath>

#include "midspan/units.hpp"

namespace midspan {
namespace {

constexpr double cents_per_log = 1731.234049066756;  // 1200 / ln 2
constexpr double scatter_share = 1.2;
constexpr double repeats_weigh = 1.5;
constexpr double most_structure = 0.66;
constexpr double unknown_turns = 0.001;
constexpr double glimpse = 1.0;    // s: of less one does not see what the string is like
constexpr Cents too_coarse{0.05};  // scatter that hides what leaves the law

// What is never known of a pitch: a share of its glide, and so much.
struct Unknown {
    double share_of_glide;
    Cents at_least;
};
constexpr Unknown on_the_law{0.001, Cents{0.004}};
constexpr Unknown off_the_law{0.01, Cents{0.015}};
// Beside one plane noise may hide a second: by as many times the scatter, up to as much.
constexpr double hidden_share = 2.0;
constexpr Cents of_hidden_plane{0.1};
// A lowest partial alone may always hide one.
constexpr Cents of_unheard_plane{0.06};
// In a short note it bends the glide as well: by such a share of what was still to come when the note ended.
constexpr double share_to_come = 0.4;
// Where the lowest partial is not the first, it may itself stand as far off the law as others do.
constexpr Cents of_law{1.0};
// Where what is left over of the note hangs together, string and model part: by a share of the glide, by as
// much. Two planes that only die, as they have it, drive each other in truth.
constexpr double by_structure_of_planes = 0.04;
constexpr double by_structure_of_coupled_planes = 0.03;
constexpr double by_structure_of_others = 0.06;
constexpr Cents of_planes{0.01};
// And where noise hides from planes that only die that they drive each other, by up to as much.
constexpr double by_hidden_coupling = 0.06;
constexpr Cents too_coarse_for_coupling{0.03};

constexpr double squared(double x) { return x * x; }
double squared(Cents x) { return squared(x.value() / cents_per_log); }

// Of what noise and models leave open.
double scatter(const ModelChoice& choice) {
    const double repeats = std::cbrt(std::min(choice.structure(), most_structure));
    const double widened =
        choice.belief().variance * std::pow((1.0 + repeats) / (1.0 - repeats), repeats_weigh);
    return squared(scatter_share) * (widened + choice.disagreement());
}

// A small part of a turn over as much of the note as is well heard.
double drift(const ModelChoice& choice, const PartialTracks& tracks) {
    const StringLaw& law = choice.string().law;
    const double decay = std::max(choice.string().partials[0].planes[0].decay, 0.1);
    const double heard = std::min(tracks.time(tracks.length() - 1), 2.3 / decay);
    return squared(unknown_turns / (std::exp(law.log_lowest) * heard)) * (1.0 + squared(glimpse / heard));
}

// How far scatter of such a variance hides what would show beside a scatter of `coarse`: up to 1.
double hidden(double variance, Cents coarse) { return variance / (variance + squared(coarse)); }

// What is not known of a string that may leave the law: for sure, or as far as scatter hides it.
Unknown unknown_of(const ModelChoice& string) {
    if (string.coupled()) return off_the_law;
    const double strays = string.loose() ? 1.0 : hidden(string.belief().variance, too_coarse);
    return {std::lerp(on_the_law.share_of_glide, off_the_law.share_of_glide, strays),
            Cents{std::lerp(on_the_law.at_least.value(), off_the_law.at_least.value(), strays)}};
}

// What a second plane that noise hides adds.
double hidden_plane(const ModelChoice& string) {
    if (string.beating()) return 0.0;
    return squared(of_hidden_plane) *
           hidden(squared(hidden_share) * string.belief().variance, of_hidden_plane);
}

// What is not known of two planes of vibration, beyond that.
Unknown unknown_of_planes(const ModelChoice& string) {
    if (!string.beating()) return {0.0, Cents{0.0}};
    if (string.coupled()) return {by_structure_of_coupled_planes * string.structure(), of_planes};
    return {by_structure_of_planes * string.structure() +
                by_hidden_coupling * hidden(string.belief().variance, too_coarse_for_coupling),
            of_planes};
}

}  // namespace

double doubt_of_string(const ModelChoice& string, const PartialTracks& tracks) {
    const Unknown unknown = unknown_of(string);
    const Unknown beating = unknown_of_planes(string);
    const double share = unknown.share_of_glide + beating.share_of_glide;
    return scatter(string) + drift(string, tracks) + squared(share * string.string().law.whole_glide()) +
           squared(unknown.at_least) + squared(beating.at_least) + hidden_plane(string);
}

double doubt_of_lowest(const ModelChoice& lowest, const ModelChoice& whole, const PartialTracks& tracks) {
    const StringLaw& law = lowest.string().law;
    const double share = on_the_law.share_of_glide + by_structure_of_others * whole.structure();
    const double to_come = law.whole_glide() * law.faded(tracks.time(tracks.length() - 1));
    const bool first = tracks.tracks()[lowest.string().partials[0].track].number == 1;
    return scatter(lowest) + drift(lowest, tracks) + squared(share * law.whole_glide()) +
           squared(share_to_come * to_come) + squared(of_unheard_plane) + (first ? 0.0 : squared(of_law));
}

}  // namespace midspan
