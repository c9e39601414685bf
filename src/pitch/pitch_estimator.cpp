// pitch_estimator.cpp: one pluck to its pitch, with everything that is uncertain about it.
//
// Room: pitch. Pure. May include: ground, notes.
#include "midspan/pitch/pitch_estimator.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>

#include "pitch/model_choice.hpp"
#include "pitch/odd_partials.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/periodicity.hpp"
#include "pitch/string_fit.hpp"

namespace midspan {
namespace {

constexpr double cents_per_log = 1731.234049066756;  // 1200 / ln 2
constexpr double roughly = 0.5;  // of the weighted sum of squares: what a run may leave on the table
constexpr double closely = 0.01;
constexpr double faithful = 1e-3;  // amplitudes that strong partials' noise would hide
constexpr double scatter_share = 1.2;
constexpr double repeats_weigh = 1.5;
constexpr double most_structure = 0.66;
constexpr double unknown_share_of_glide = 0.004;
constexpr double by_structure_of_planes = 0.06;
constexpr double unknown_turns = 0.0035;
constexpr FreeParts gliding{.glide = true, .self_stretch = true};
constexpr Cents settled_enough{0.5};       // good for a verdict, however much glide is left
constexpr double stiffest_string = 0.006;  // B: twice a bass string stopped at its 21st fret
constexpr double straying =
    3.0 / cents_per_log;  // ends and body move partials by a cent or two, a bad string by many
constexpr Decibels least_explained{5.0};  // a tone that follows no string is none

}  // namespace

class PitchEstimator::Work {
public:
    Work(Hertz lowest, Hertz highest) : lowest_{lowest}, highest_{highest} {}

    std::optional<PitchReading> estimate(const Pluck& pluck) {
        const auto samples = pluck.usable();
        const double rate = pluck.sample_rate.value();
        if (static_cast<double>(samples.size()) < 3.0 * rate / lowest_.value()) return std::nullopt;
        const Periodicity coarse = period_.find(samples, pluck.sample_rate, lowest_, highest_);
        if (coarse.clarity < 0.4) return std::nullopt;
        raw_.follow(samples, pluck.sample_rate, coarse.frequency);
        if (raw_.length() < 6) return std::nullopt;
        fit();
        if (fit_.string().partials.empty()) return std::nullopt;
        choice_.choose(fit_, tracks_);
        const Decibels explained = signal_to_noise(string(), tracks_);
        if (explained < least_explained) return std::nullopt;

        PitchReading reading;
        const StringLaw& law = string().law;
        reading.frequency = Hertz{std::exp(choice_.belief().log_lowest)};
        reading.uncertainty = Cents{cents_per_log * uncertainty()};
        reading.inharmonicity = std::max(0.0, law.inharmonicity);
        reading.inharmonicity_uncertainty = string().deviations.inharmonicity;
        reading.glide = Cents{cents_per_log * law.whole_glide()};
        reading.glide_time = Seconds{std::exp(law.log_glide_time)};
        reading.partials = static_cast<int>(string().partials.size());
        reading.span = pluck.usable_duration();
        reading.signal_to_noise = explained;
        const OddPartialLevels levels = odd_.find(samples, pluck.sample_rate, law);
        reading.odd_partials = levels.odd;
        reading.odd_partials_floor = levels.floor;
        reading.beating = choice_.beating();
        reading.not_settled = still_gliding() && reading.uncertainty > settled_enough;
        reading.string_suspect = law.inharmonicity > stiffest_string || raw_.astray() > straying;
        return reading;
    }

private:
    [[nodiscard]] const FittedString& string() const { return choice_.string(); }

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
        tracks_.settle(raw_, fit_.string().law, count);
        fit_.restart(tracks_, StringLaw{fit_.string().law}, first_partials, tracks_.length());
        fit_.run(tracks_, tracks_.length(), free, 4, roughly);
        // Step by step: the higher a partial, the less its phase may be foreseen.
        for (const std::size_t highest : {PartialTracks::most_partials, PartialTracks::most_heard}) {
            fit_.widen(tracks_, tracks_.length(), static_cast<int>(highest));
            fit_.run(tracks_, tracks_.length(), free, 20, roughly);
        }
        if (tracks_.strayed_from(raw_, fit_.string().law) > faithful) {
            tracks_.settle(raw_, fit_.string().law, count);
            fit_.restart(tracks_, StringLaw{fit_.string().law}, PartialTracks::most_heard, tracks_.length());
            fit_.run(tracks_, tracks_.length(), free, 20, roughly);
        }
        fit_.run(tracks_, tracks_.length(), free, 20, closely);
    }

    // Scatter, widened by what the note and the models show of their own limits.
    //
    // What is left over hangs together: the model is not the whole truth. The scatter then counts for less
    // than it seems, since neighbours repeat each other, and what the models that were tried differ by
    // beyond their own scatter is a doubt of its own.
    //
    // And no string follows the law to the last digit: a small part of the glide, and a small part of a turn
    // over the note, are never known. How small, and how heavily repeating neighbours weigh, was set by
    // simulation, so that two different physics both have the truth within two standard uncertainties as
    // often as they should.
    [[nodiscard]] double uncertainty() const {
        const double repeats = std::cbrt(std::min(choice_.structure(), most_structure));
        const double scatter =
            choice_.belief().variance * std::pow((1.0 + repeats) / (1.0 - repeats), repeats_weigh);
        const double decay = std::max(string().partials[0].planes[0].decay, 0.1);
        const double heard = std::min(tracks_.time(tracks_.length() - 1), 2.3 / decay);
        const double drift = unknown_turns / (std::exp(string().law.log_lowest) * heard);
        // Two planes stretch the string by turns, which no model has: what they leave over hangs together.
        const double share =
            unknown_share_of_glide + (choice_.beating() ? by_structure_of_planes * choice_.structure() : 0.0);
        const double lawless = share * string().law.whole_glide();
        return std::sqrt(scatter_share * scatter_share * (scatter + choice_.disagreement()) + drift * drift +
                         lawless * lawless);
    }

    // A quarter of the glide or more was still to come when the note ended.
    [[nodiscard]] bool still_gliding() const {
        const double end = tracks_.time(tracks_.length() - 1);
        return string().law.glide > 0.0 &&
               std::exp(-2.0 * end * std::exp(-string().law.log_glide_time)) > 0.25;
    }

    Hertz lowest_;
    Hertz highest_;
    PeriodFinder period_;
    PartialTracks raw_;
    PartialTracks tracks_;
    StringFit fit_;
    ModelChoice choice_;
    OddPartialFinder odd_;
};

PitchEstimator::PitchEstimator(Hertz lowest, Hertz highest)
    : work_{std::make_unique<Work>(lowest, highest)} {}
PitchEstimator::~PitchEstimator() = default;
PitchEstimator::PitchEstimator(PitchEstimator&&) noexcept = default;
PitchEstimator& PitchEstimator::operator=(PitchEstimator&&) noexcept = default;

std::optional<PitchReading> PitchEstimator::estimate(const Pluck& pluck) { return work_->estimate(pluck); }

}  // namespace midspan
