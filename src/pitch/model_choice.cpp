// model_choice.cpp: which string a note shows: steady or gliding, one plane or two, by themselves or driving
// each other, on the law or a little off.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/model_choice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "pitch/left_over.hpp"

namespace midspan {
namespace {

constexpr double cents_per_log = 1731.234049066756;  // 1200 / ln 2
// What is left that far down turns a partial by a thousandth of a radian: no second plane, but what a window
// makes of a strong glide.
constexpr Decibels clean{60.0};
// Where the simplest model explains less than this, and what another leaves over is still no noise, that one
// is better by chance, unless it leaves less than a fiftieth. Where the simplest explains next to nothing,
// any is welcome.
constexpr Decibels far_from_any{20.0};
constexpr Decibels next_to_nothing{6.0};
constexpr double far_better = 4.0;  // ln
constexpr double certain_odds = 50.0;
constexpr double certain_glide = 6.0;  // standard deviations
constexpr double upward = 0.03;  // the chance that what glides rises: tension falls, fingers do not always

// The glide as physics has it: it dies as partial 1 and the higher ones do, and partial 1 has its own.
constexpr FreeParts gliding_as_heard{
    .glide = true, .self_stretch = true, .fast_glide = true, .as_partial_1 = true};
constexpr FreeParts off_the_law{.glide = true, .fast_glide = true, .loose = true};

constexpr double squared(double x) { return x * x; }

// Minus twice the log-likelihood plus what the unknowns cost (the Bayesian information criterion).
double score(const FoundString& string, const PartialTracks& tracks, const FreeParts& free) {
    const auto partials = static_cast<double>(string.partials.size());
    const double unknowns = (free.second_plane ? 3.0 * partials + 1.0 : 0.0) +
                            (free.loose ? 2.0 * std::max(partials - 1.0, 0.0) : 0.0);
    return string.misfit + unknowns * std::log(2.0 * static_cast<double>(tracks.length()) * partials);
}

// Real numbers that a string was held to, as if they were independent.
double values(const FoundString& string, const PartialTracks& tracks) {
    double sum = 0.0;
    for (const FoundPartial& partial : string.partials)
        sum += 2.0 / tracks.overlap() * static_cast<double>(partial.length);
    return sum;
}

ModelChoice::Belief belief_of(const FoundString& string) {
    return {string.law.log_lowest, squared(string.deviations.log_lowest)};
}

ModelChoice::Belief mixed(const ModelChoice::Belief& one, const ModelChoice::Belief& other,
                          double odds_of_other) {
    const double chance = odds_of_other / (1.0 + odds_of_other);
    const double apart = other.log_lowest - one.log_lowest;
    return {one.log_lowest + chance * apart, (1.0 - chance) * one.variance + chance * other.variance +
                                                 chance * (1.0 - chance) * squared(apart)};
}

// The odds of an unknown's being free against its being nothing, even beforehand (Savage and Dickey's ratio,
// from memory): of what it came out as, and of what was believed of it.
double odds_of_free(double found, double deviation, double believed, double believed_deviation) {
    return deviation / believed_deviation *
           std::exp(0.5 * (squared(found / deviation) - squared(believed / believed_deviation)));
}

// By how much of a glide that was found to believe in it, on average and in the mean square, where three of
// four strings do not glide to speak of, and the others by half a cent to 16 at their softest or hardest.
struct GlideShare {
    double mean = 0.0;
    double mean_square = 0.0;
};

GlideShare share_to_believe(double glide, double deviation) {
    constexpr double odds_of_none = 3.0;
    constexpr std::array<double, 6> usual{0.5, 1.0, 2.0, 4.0, 8.0, 16.0};  // cents
    double sum = odds_of_none;
    GlideShare share;
    for (const double cents : usual) {
        const double kept = 1.0 / (1.0 + squared(deviation * cents_per_log / cents));
        const double seen = std::sqrt(kept) * glide / deviation;
        const double falling = 0.5 * std::erfc(-seen / std::sqrt(2.0));
        const double weight = std::sqrt(1.0 - kept) * std::exp(0.5 * squared(seen)) * 2.0 *
                              ((1.0 - upward) * falling + upward * (1.0 - falling)) /
                              static_cast<double>(usual.size());
        sum += weight;
        share.mean += weight * kept;
        share.mean_square += weight * squared(kept);
    }
    return {share.mean / sum, share.mean_square / sum};
}

}  // namespace

Decibels signal_to_noise(const FoundString& string, const PartialTracks& tracks) {
    double power = 0.0;
    double left = 0.0;
    for (const FoundPartial& partial : string.partials) {
        const auto& values = tracks.tracks()[partial.track].values;
        for (std::size_t m = 0; m < partial.length; ++m) {
            power += std::norm(values[m]);
        }
        left += partial.variance * static_cast<double>(partial.length);
    }
    return Decibels{10.0 * std::log10(std::max(power - left, 1e-30) / std::max(left, 1e-30))};
}

void ModelChoice::choose(StringFit& fit, const PartialTracks& tracks, double since_pluck) {
    candidates_.clear();
    is_coupled_ = false;
    best_score_ = std::numeric_limits<double>::infinity();
    propose(fit, tracks, gliding);
    plain_ = best_;

    fit.run(tracks, tracks.length(), gliding_as_heard, 10, roughly);
    if (fit.structure_left(tracks, false) < structured || signal_to_noise(fit.string(), tracks) > clean) {
        fit.run(tracks, tracks.length(), gliding_as_heard, 10, closely);
        candidates_.clear();
        accept(fit, tracks, gliding_as_heard);
        average_glides(fit, tracks);
        return;
    }

    fit.resume(plain_);
    consider(fit, tracks, off_the_law);
    if (structure_ > structured) {
        fit.resume(plain_);
        fit.split_planes(tracks);
        FreeParts free = gliding;
        free.second_plane = true;
        consider(fit, tracks, free);
        if (fit.structure_left(tracks, true) > structured) {
            free = off_the_law;
            free.second_plane = true;
            consider(fit, tracks, free);
        }
    }
    fit.resume(best_);
    fit.run(tracks, tracks.length(), best_free_, 10, enough());
    best_ = fit.string();
    belief_ = belief_of(best_);
    if (!best_free_.loose) average_glides(fit, tracks);
    if (structure_ > structured || best_free_.second_plane) consider_coupling(tracks, since_pluck);
}

// Two planes that drive each other, where something beats. The same partials are compared.
void ModelChoice::consider_coupling(const PartialTracks& tracks, double since_pluck) {
    // Real strings that leave the law by more than planes explain are fitted by many motions about as well.
    constexpr double hardly_structured = 0.02;
    constexpr Decibels well_explained{30.0};
    // Nor does the motion of a string say much of one whose partials are moved by what it does not know.
    constexpr double too_far_off_the_law = 0.5 / cents_per_log;
    // Before looking: real planes do drive each other, and offset and self-stretch of a partial are nearly
    // known. As a difference of scores.
    constexpr double likelier = 20.0;
    if (!coupled_.find(plain_, best_, tracks, since_pluck)) return;
    const CoupledString& string = coupled_.string();
    if (string.furthest_off_the_law() > too_far_off_the_law) return;
    if (coupled_.structure_left() > hardly_structured && string.explained() < well_explained) return;
    const auto partials = static_cast<double>(string.count);
    double better = 0.0;
    for (std::size_t p = 0; p < string.count; ++p)
        better += best_.partials[p].misfit - string.places[p].misfit(tracks.overlap());
    const double unknowns = (best_free_.second_plane ? 0.0 : 3.0 * partials + 1.0) +
                            (best_free_.loose ? 0.0 : 2.0 * (partials - 1.0));
    if (better + likelier < unknowns * std::log(2.0 * static_cast<double>(tracks.length()) * partials))
        return;

    is_coupled_ = true;
    best_free_.second_plane = best_free_.loose = true;
    structure_ = coupled_.structure_left();
    best_.misfit -= better;
    best_.law.log_lowest = string.law.log_lowest;
    best_.law.split = string.law.split;
    best_.law.glide = coupled_.glide();
    best_.law.fast_glide = 0.0;
    for (std::size_t p = 0; p < string.count; ++p)
        best_.partials[p].variance = string.places[p].variance;
    belief_ = {string.law.log_lowest, squared(string.deviation)};
}

// Fits on from the present state and keeps the result if it is better than the best so far.
void ModelChoice::consider(StringFit& fit, const PartialTracks& tracks, const FreeParts& free) {
    // So far behind the best after a few steps none has been seen to catch up.
    constexpr double hopeless = 75.0;
    fit.run(tracks, tracks.length(), free, 4, roughly);
    if (free.loose && score(fit.string(), tracks, free) > best_score_ + hopeless) return;
    fit.run(tracks, tracks.length(), free, 12, roughly);
    if (free.second_plane) fit.order_planes(tracks);
    propose(fit, tracks, free);
}

void ModelChoice::propose(StringFit& fit, const PartialTracks& tracks, const FreeParts& free) {
    const FoundString& string = fit.string();
    candidates_.push_back({string.law.log_lowest, string.deviations.log_lowest,
                           free.second_plane ? string.law.split : 0.0, free.loose, string.misfit});
    values_ = values(string, tracks);
    const double reached = score(string, tracks, free);
    if (reached >= best_score_ || blown_up(string, free)) return;
    if (better_by_chance(fit, tracks, free)) {
        candidates_.back().wanders = false;
        return;
    }
    best_score_ = reached;
    accept(fit, tracks, free);
}

// Of a note that no model comes near to, the least change makes another one the best, at another pitch. There
// the simplest stands, as long as it explains anything, and what the others say is doubt.
bool ModelChoice::better_by_chance(StringFit& fit, const PartialTracks& tracks, const FreeParts& free) const {
    if (!free.loose && !free.second_plane) return false;
    const Decibels explained = signal_to_noise(plain_, tracks);
    if (explained > far_from_any || explained < next_to_nothing) return false;
    if (fit.structure_left(tracks, free.second_plane) < structured) return false;
    // On average over the values.
    return plain_.misfit - fit.string().misfit < far_better * values(fit.string(), tracks);
}

void ModelChoice::accept(StringFit& fit, const PartialTracks& tracks, const FreeParts& free) {
    structure_ = fit.structure_left(tracks, free.second_plane);
    best_ = fit.string();
    best_free_ = free;
    belief_ = belief_of(best_);
}

// Two planes so close that the note cannot hold them apart share their pitch at will: a single plane then
// says more.
bool ModelChoice::blown_up(const FoundString& string, const FreeParts& free) const {
    const double deviation = string.deviations.log_lowest;
    return free.second_plane && deviation > 0.2 / cents_per_log &&
           deviation > 5.0 * best_.deviations.log_lowest;
}

// A string all of whose partials glide alike is known better than one whose first may glide by itself, better
// yet if the higher ones' swing adds nothing to it, and far better if it does not glide at all. What they say
// is averaged by their odds, from the freest on.
void ModelChoice::average_glides(StringFit& fit, const PartialTracks& tracks) {
    const auto without = [&](bool FreeParts::*part, double StringLaw::*unknown, double odds) {
        if (!(odds <= certain_odds)) return;  // no number, no odds: the freer one stands
        const Belief with = belief_;
        FreeParts free = best_free_;
        free.*part = false;
        fit.let_go(unknown);
        fit.run(tracks, tracks.length(), free, 10, enough());
        accept(fit, tracks, free);
        belief_ = mixed(belief_, with, odds);
    };
    const auto& beliefs = fit.beliefs();
    if (best_free_.self_stretch) {
        without(&FreeParts::self_stretch, &StringLaw::self_stretch,
                odds_of_free(best_.law.self_stretch, best_.deviations.self_stretch, beliefs.self_stretch,
                             beliefs.self_stretch_deviation));
    }
    if (best_free_.fast_glide) {
        without(
            &FreeParts::fast_glide, &StringLaw::fast_glide,
            odds_of_free(best_.law.fast_glide, best_.deviations.fast_glide, 0.0, fit.fast_glide_deviation()));
    }
    doubt_glide(fit, tracks);
}

// The steady string is the gliding one whose glide is nothing: what is between the two belongs to glides
// between the one found and none.
void ModelChoice::doubt_glide(StringFit& fit, const PartialTracks& tracks) {
    const double glide = best_.law.glide;
    const double deviation = best_.deviations.glide;
    if (!(std::abs(glide) < certain_glide * deviation)) return;  // or the fit cannot tell
    const GlideShare share = share_to_believe(glide, deviation);
    const Belief moving = belief_;
    FreeParts steady;
    steady.second_plane = best_free_.second_plane;
    fit.let_go(&StringLaw::glide);
    fit.run(tracks, tracks.length(), steady, 10, enough());
    const Belief still = belief_of(fit.string());
    if (share.mean < 0.5) accept(fit, tracks, steady);
    const double apart = moving.log_lowest - still.log_lowest;
    belief_.log_lowest = still.log_lowest + share.mean * apart;
    belief_.variance = still.variance + share.mean * std::max(0.0, moving.variance - still.variance) +
                       std::max(0.0, share.mean_square - squared(share.mean)) * squared(apart);
}

// Where noise is not what limits the pitch, a tenth of what noise leaves is not worth the way there.
double ModelChoice::enough() const { return structure_ > structured ? 2.0 * roughly : closely; }

double ModelChoice::disagreement() const {
    double most = 0.0;
    for (const Candidate& candidate : candidates_) {
        // A loose model that the evidence turned down wanders by itself and proves nothing.
        if (candidate.wanders) continue;
        // A model may have named the two planes the other way, which is no disagreement.
        const double off = candidate.log_lowest - best_.law.log_lowest;
        const double other_plane = off + std::log1p(candidate.split);
        const double left =
            std::exp(std::min(0.0, (best_.misfit - candidate.misfit) / values_));  // of its power
        most = std::max(most,
                        left * (std::min(squared(off), squared(other_plane)) - squared(candidate.deviation)));
    }
    return most * squared(std::min(1.0, structure_ / structured));
}

}  // namespace midspan
