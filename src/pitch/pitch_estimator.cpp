// pitch_estimator.cpp: one pluck to its pitch, with everything that is uncertain about it.
//
// Room: pitch. Pure. May include: ground, notes.
#include "midspan/pitch/pitch_estimator.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "pitch/odd_partials.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/periodicity.hpp"
#include "pitch/string_fit.hpp"

namespace midspan {
namespace {

constexpr double cents_per_log = 1731.234049066756;  // 1200 / ln 2
constexpr double roughly = 0.5;  // of the weighted sum of squares: what a run may leave on the table
constexpr double nearly = 0.1;
constexpr double closely = 0.01;
constexpr double faithful = 1e-3;  // amplitudes that strong partials' noise would hide
constexpr double scatter_share = 1.2;
constexpr double unknown_share_of_glide = 0.003;
constexpr double unknown_turns = 0.005;
constexpr double structured = 0.1;  // what is left over hangs together by more than this: not noise
constexpr double glide_seen = 4.0;  // standard deviations: one chance in 16,000 to see what is not there
constexpr double smallest_glide = 0.5 / cents_per_log;  // of an ordinary pluck
constexpr double gentle_glide = 1.0 / cents_per_log;
constexpr double small_odds = 0.1;
constexpr FreeParts gliding{.glide = true, .self_stretch = true};
constexpr Cents settled_enough{0.5};       // good for a verdict, however much glide is left
constexpr double stiffest_string = 0.006;  // B: twice a bass string stopped at its 21st fret
constexpr double straying =
    3.0 / cents_per_log;  // ends and body move partials by a cent or two, a bad string by many
// What is left that far down turns a partial by a thousandth of a radian: no second plane, but what a window
// makes of a strong glide.
constexpr Decibels clean{60.0};
constexpr Decibels least_explained{6.0};  // a tone that follows no string is none

}  // namespace

class PitchEstimator::Work {
public:
    Work(Hertz lowest, Hertz highest) : lowest_{lowest}, highest_{highest} { candidates_.reserve(4); }

    std::optional<PitchReading> estimate(const Pluck& pluck) {
        const auto samples = pluck.usable();
        const double rate = pluck.sample_rate.value();
        if (static_cast<double>(samples.size()) < 3.0 * rate / lowest_.value()) return std::nullopt;
        const Periodicity coarse = period_.find(samples, pluck.sample_rate, lowest_, highest_);
        if (coarse.clarity < 0.4) return std::nullopt;
        raw_.follow(samples, pluck.sample_rate, coarse.frequency);
        if (raw_.length() < 6) return std::nullopt;
        fit();
        if (string().partials.empty()) return std::nullopt;
        const Decibels explained = signal_to_noise();
        if (explained < least_explained) return std::nullopt;

        PitchReading reading;
        const StringLaw& law = string().law;
        reading.frequency = Hertz{std::exp(law.log_lowest)};
        reading.uncertainty = Cents{cents_per_log * uncertainty()};
        reading.inharmonicity = std::max(0.0, law.inharmonicity);
        reading.inharmonicity_uncertainty = string().deviations.inharmonicity;
        reading.glide = Cents{cents_per_log * law.glide};
        reading.glide_time = Seconds{std::exp(law.log_glide_time)};
        reading.partials = static_cast<int>(string().partials.size());
        reading.span = pluck.usable_duration();
        reading.signal_to_noise = explained;
        const OddPartialLevels levels = odd_.find(samples, pluck.sample_rate, law);
        reading.odd_partials = levels.odd;
        reading.odd_partials_floor = levels.floor;
        reading.beating = beating_;
        reading.not_settled = still_gliding() && reading.uncertainty > settled_enough;
        reading.string_suspect = law.inharmonicity > stiffest_string || raw_.astray() > straying;
        return reading;
    }

private:
    [[nodiscard]] const FittedString& string() const { return fit_.string(); }

    // The law from the lowest few partials over a growing span, so that the phase is never lost; then the
    // partials with that law taken out, slow and short, all of them together.
    void fit() {
        constexpr int first_partials = 5;
        const std::size_t whole = raw_.length();
        auto span = std::min(whole, std::max<std::size_t>(6, static_cast<std::size_t>(0.3 / raw_.hop())));
        fit_.begin(raw_, span, first_partials);
        FreeParts free;
        while (true) {
            fit_.run(raw_, span, free, 4, roughly);
            if (span == whole) break;
            span = std::min(whole, 2 * span);
            free.glide = true;
        }
        free = gliding;

        const auto count = std::clamp<std::size_t>(static_cast<std::size_t>(0.065 / raw_.hop()), 1,
                                                   std::max<std::size_t>(1, whole / 24));
        tracks_.settle(raw_, string().law, count);
        fit_.restart(tracks_, StringLaw{string().law}, first_partials, tracks_.length());
        fit_.run(tracks_, tracks_.length(), free, 4, roughly);
        fit_.widen(tracks_, tracks_.length(), PartialTracks::most_partials);
        fit_.run(tracks_, tracks_.length(), free, 20, roughly);
        if (tracks_.strayed_from(raw_, string().law) > faithful) {
            tracks_.settle(raw_, string().law, count);
            fit_.restart(tracks_, StringLaw{string().law}, PartialTracks::most_partials, tracks_.length());
            fit_.run(tracks_, tracks_.length(), free, 20, roughly);
        }
        fit_.run(tracks_, tracks_.length(), free, 20, closely);
        choose_model();
    }

    // The simplest model that the note's own evidence supports: a steady string; one that glides; one whose
    // partials stand a little off the law, as real ends and bridges make them; and either with a second plane
    // of vibration.
    void choose_model() {
        FreeParts strict = gliding;
        FreeParts loose{.glide = true, .loose = true};
        candidates_.clear();
        glide_doubt_ = 0.0;
        best_score_ = std::numeric_limits<double>::infinity();
        propose(strict);
        if (structure_ < structured || signal_to_noise() > clean) {
            shows_no_glide() ? hold_steady() : share_glide();
            return;
        }
        plain_ = string();
        consider(loose);
        fit_.resume(plain_);
        fit_.split_planes(tracks_);
        strict.second_plane = true;
        consider(strict);
        if (fit_.structure_left(tracks_, true) > structured) {
            loose.second_plane = true;
            consider(loose);
        }
        fit_.resume(best_);
        fit_.run(tracks_, tracks_.length(), best_free_, 10, closely);
        best_ = string();
        if (!best_free_.loose) share_glide();
    }

    // Whether any ordinary glide would have been seen, and none was.
    [[nodiscard]] bool shows_no_glide() const {
        const double could_hide = glide_seen * string().deviations.glide;
        return could_hide < smallest_glide && std::abs(string().law.glide) < could_hide;
    }

    // A string that does not glide is known far better than one that may. The doubt that remains is the
    // chance that it glides after all, unseen (from the odds of the two, for a gentle pluck), times what that
    // would change.
    void hold_steady() {
        const double gliding = string().law.log_lowest;
        const double deviation = string().deviations.log_lowest;
        const double seen = string().law.glide / string().deviations.glide;
        const double odds = std::exp(0.5 * seen * seen) * string().deviations.glide / gentle_glide;
        for (const double enough : {roughly, closely}) {
            fit_.run(tracks_, tracks_.length(), FreeParts{}, 10, enough);
        }
        best_ = string();
        structure_ = fit_.structure_left(tracks_, false);
        const double apart = string().law.log_lowest - gliding;
        glide_doubt_ = odds / (1.0 + odds) * (apart * apart + deviation * deviation);
        candidates_.clear();
    }

    // A string all of whose partials glide alike is known far better than one whose first may glide by
    // itself: from the odds of the two (Savage and Dickey's ratio), as above.
    void share_glide() {
        const double alone = string().law.log_lowest;
        const double deviation = string().deviations.log_lowest;
        const Beliefs& beliefs = fit_.beliefs();
        const double seen = string().law.self_stretch / string().deviations.self_stretch;
        const double expected = beliefs.self_stretch / beliefs.self_stretch_deviation;
        const double odds = string().deviations.self_stretch / beliefs.self_stretch_deviation *
                            std::exp(0.5 * (seen * seen - expected * expected));
        if (odds > small_odds) return;
        best_free_.self_stretch = false;
        fit_.run(tracks_, tracks_.length(), best_free_, 10, closely);
        best_ = string();
        structure_ = fit_.structure_left(tracks_, beating_);
        const double apart = string().law.log_lowest - alone;
        glide_doubt_ = odds / (1.0 + odds) * (apart * apart + deviation * deviation);
    }

    // Minus twice the log-likelihood plus what the unknowns cost (the Bayesian information criterion).
    [[nodiscard]] double score(const FreeParts& free) const {
        const auto partials = static_cast<double>(string().partials.size());
        const double unknowns = (free.second_plane ? 3.0 * partials + 1.0 : 0.0) +
                                (free.loose ? 2.0 * std::max(partials - 1.0, 0.0) : 0.0);
        return string().misfit + unknowns * std::log(2.0 * static_cast<double>(tracks_.length()) * partials);
    }

    // Fits on from the present state and keeps the result if it is better than the best so far.
    void consider(const FreeParts& free) {
        // Twice, since the first run tells how much each partial is to count in the second.
        fit_.run(tracks_, tracks_.length(), free, 10, roughly);
        if (free.second_plane) fit_.order_planes(tracks_);
        fit_.run(tracks_, tracks_.length(), free, 10, nearly);
        propose(free);
    }

    void propose(const FreeParts& free) {
        candidates_.push_back({string().law.log_lowest, string().deviations.log_lowest,
                               free.second_plane ? string().law.split : 0.0, free.loose});
        const double reached = score(free);
        if (reached >= best_score_ || blown_up(free)) return;
        best_score_ = reached;
        best_ = string();
        best_free_ = free;
        beating_ = free.second_plane;
        structure_ = fit_.structure_left(tracks_, beating_);
    }

    // Two planes so close that the note cannot hold them apart share their pitch at will: a single plane
    // then says more.
    [[nodiscard]] bool blown_up(const FreeParts& free) const {
        const double deviation = string().deviations.log_lowest;
        return free.second_plane && deviation > 0.2 / cents_per_log &&
               deviation > 5.0 * best_.deviations.log_lowest;
    }

    // Scatter, widened by what the note and the models show of their own limits.
    //
    // What is left over hangs together: the model is not the whole truth. The scatter then counts for less
    // than it seems, since neighbours repeat each other, and what the models that were tried differ by
    // beyond their own scatter is a doubt of its own.
    //
    // And no string follows the law to the last digit: a small part of the glide, and a small part of a turn
    // over the note, are never known. How small was set by simulation, so that two different physics both
    // have the truth within two standard uncertainties as often as they should.
    [[nodiscard]] double uncertainty() const {
        const double repeats = std::cbrt(std::min(structure_, 0.9));
        const double scatter = best_.deviations.log_lowest * std::sqrt((1.0 + repeats) / (1.0 - repeats));
        double doubt = 0.0;
        for (const Candidate& candidate : candidates_) {
            // A loose model that the evidence turned down wanders by itself and proves nothing.
            if (candidate.loose) continue;
            // A model may have named the two planes the other way, which is no disagreement.
            const double off = candidate.log_lowest - best_.law.log_lowest;
            const double other_plane = off + std::log1p(candidate.split);
            const double apart = std::min(off * off, other_plane * other_plane);
            doubt = std::max(doubt, apart - candidate.deviation * candidate.deviation);
        }
        const double weight = std::min(1.0, structure_ / structured);
        const double decay = std::max(best_.partials[0].planes[0].decay, 0.1);
        const double heard = std::min(tracks_.time(tracks_.length() - 1), 2.3 / decay);
        const double drift = unknown_turns / (std::exp(best_.law.log_lowest) * heard);
        const double lawless = unknown_share_of_glide * best_.law.glide;
        return std::sqrt(scatter_share * scatter_share * (scatter * scatter + weight * weight * doubt) +
                         glide_doubt_ + drift * drift + lawless * lawless);
    }

    // A quarter of the glide or more was still to come when the note ended.
    [[nodiscard]] bool still_gliding() const {
        const double end = tracks_.time(tracks_.length() - 1);
        return string().law.glide > 0.0 &&
               std::exp(-2.0 * end * std::exp(-string().law.log_glide_time)) > 0.25;
    }

    // What the model explains of the strongest partials against what it leaves.
    [[nodiscard]] Decibels signal_to_noise() const {
        double power = 0.0;
        double left = 0.0;
        for (const FittedPartial& partial : string().partials) {
            const auto& values = tracks_.tracks()[partial.track].values;
            for (std::size_t m = 0; m < partial.length; ++m) {
                power += std::norm(values[m]);
            }
            left += partial.variance * static_cast<double>(partial.length);
        }
        return Decibels{10.0 * std::log10(std::max(power - left, 1e-30) / std::max(left, 1e-30))};
    }

    struct Candidate {
        double log_lowest;
        double deviation;
        double split;  // 0 with one plane
        bool loose;
    };

    Hertz lowest_;
    Hertz highest_;
    PeriodFinder period_;
    PartialTracks raw_;
    PartialTracks tracks_;
    StringFit fit_;
    FittedString plain_;
    FittedString best_;
    FreeParts best_free_;
    OddPartialFinder odd_;
    double best_score_ = 0.0;
    double structure_ = 0.0;
    double glide_doubt_ = 0.0;  // variance of the logarithm
    bool beating_ = false;
    std::vector<Candidate> candidates_;
};

PitchEstimator::PitchEstimator(Hertz lowest, Hertz highest)
    : work_{std::make_unique<Work>(lowest, highest)} {}
PitchEstimator::~PitchEstimator() = default;
PitchEstimator::PitchEstimator(PitchEstimator&&) noexcept = default;
PitchEstimator& PitchEstimator::operator=(PitchEstimator&&) noexcept = default;

std::optional<PitchReading> PitchEstimator::estimate(const Pluck& pluck) { return work_->estimate(pluck); }

}  // namespace midspan
