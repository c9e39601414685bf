// pitch_estimator.cpp: one pluck to its pitch, with everything that is uncertain about it.
//
// Room: pitch. Pure. May include: ground, notes.
#include "midspan/pitch/pitch_estimator.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <optional>

#include "pitch/hum_finder.hpp"
#include "pitch/left_over.hpp"
#include "pitch/lowest_alone.hpp"
#include "pitch/model_choice.hpp"
#include "pitch/odd_partials.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/periodicity.hpp"
#include "pitch/pitch_doubt.hpp"
#include "pitch/string_fit.hpp"
#include "pitch/tone_remover.hpp"

namespace midspan {
namespace {

constexpr double cents_per_log = 1731.234049066756;  // 1200 / ln 2
constexpr double faithful = 1e-3;                    // amplitudes that strong partials' noise would hide
constexpr Cents settled_enough{0.5};                 // good for a verdict, however much glide is left
constexpr double stiffest_string = 0.006;            // B: twice a bass string stopped at its 21st fret
constexpr double straying =
    3.0 / cents_per_log;                // ends and body move partials by a cent or two, a bad string by many
constexpr double unclear = 0.4;         // a period of noise
constexpr double as_the_period = 0.05;  // ln f_1: periods are right to 3 %
constexpr Decibels least_explained{5.0};  // a tone that follows no string is none

}  // namespace

class PitchEstimator::Work {
public:
    Work(Hertz lowest, Hertz highest) : lowest_{lowest}, highest_{highest} {}

    std::optional<PitchReading> estimate(const Pluck& pluck) {
        const auto samples = pluck.usable();
        const double rate = pluck.sample_rate.value();
        if (static_cast<double>(samples.size()) < 3.0 * rate / lowest_.value()) return std::nullopt;
        if (!listen(samples, pluck.sample_rate)) return std::nullopt;
        take_out_hum(samples, pluck.sample_rate);
        const double since_pluck = pluck.settling().value() + tracks_.first_middle();
        whole_.choose(fit_, tracks_, since_pluck);
        alone_.listen(fit_, tracks_, whole_, since_pluck);
        const Decibels explained{
            weighed(signal_to_noise(whole_.string(), tracks_).value(), alone_.explained().value())};
        if (explained < least_explained) return std::nullopt;

        PitchReading reading;
        const StringLaw& law = shown().string().law;
        reading.frequency =
            Hertz{std::exp(weighed(whole_.belief().log_lowest, alone_.choice().belief().log_lowest))};
        reading.uncertainty = Cents{cents_per_log * uncertainty()};
        reading.inharmonicity = std::max(0.0, whole_.string().law.inharmonicity);
        reading.inharmonicity_uncertainty = whole_.string().deviations.inharmonicity;
        reading.glide = Cents{cents_per_log * law.whole_glide()};
        reading.glide_time = Seconds{std::exp(law.log_glide_time)};
        reading.partials = static_cast<int>(shown().string().partials.size());
        reading.span = pluck.usable_duration();
        reading.signal_to_noise = explained;
        const OddPartialLevels levels = odd_.find(samples, pluck.sample_rate, whole_.string().law);
        reading.odd_partials = levels.odd;
        reading.odd_partials_floor = levels.floor;
        reading.beating = shown().beating();
        reading.not_settled = still_gliding() && reading.uncertainty > settled_enough;
        reading.string_suspect =
            whole_.string().law.inharmonicity > stiffest_string || raw_.astray() > straying;
        return reading;
    }

private:
    // The one that counts for more.
    [[nodiscard]] const ModelChoice& shown() const {
        return alone_.weight() > 0.5 ? alone_.choice() : whole_;
    }

    // False where there is no string.
    bool listen(std::span<const float> samples, Hertz rate) {
        const Periodicity coarse = period_.find(samples, rate, lowest_, highest_);
        if (coarse.clarity < unclear) return false;
        raw_.follow(samples, rate, coarse.frequency);
        if (raw_.length() < StringFit::fewest_values) return false;
        fit();
        return !fit_.string().partials.empty() && near(coarse.frequency);
    }

    // The law from the lowest few partials over a growing span, so that the phase is never lost; then the
    // partials with that law taken out, slow and short, all of them together.
    void fit() {
        constexpr int first_partials = 5;
        const std::size_t whole = raw_.length();
        auto span =
            std::min(whole, std::max(StringFit::fewest_values, static_cast<std::size_t>(0.3 / raw_.hop())));
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

    // Multiples of the mains that sing into the partials. What two planes leave over shows them: of a string
    // that beats one plane leaves more than any hum.
    void take_out_hum(std::span<const float> samples, Hertz rate) {
        if (fit_.structure_left(tracks_, false) < structured) return;
        const std::optional<Hertz> mains = hum_.find(samples, rate, fit_.string().law);
        if (!mains) return;
        in_one_plane_ = fit_.string();
        FreeParts free = gliding;
        free.second_plane = true;
        fit_.split_planes(tracks_);
        fit_.run(tracks_, tracks_.length(), free, 8, 4.0 * roughly);
        for (std::size_t p = 0; p < fit_.string().partials.size(); ++p) {
            remover_.take_out(raw_, tracks_, fit_.string().partials[p].track, *mains,
                              fit_.left_over(tracks_, p, true));
        }
        fit_.resume(in_one_plane_);
        fit_.run(tracks_, tracks_.length(), gliding, 20, closely);
    }

    // Between what the whole string says and what its lowest partial says alone.
    [[nodiscard]] double weighed(double whole, double alone) const {
        return alone_.weight() == 0.0 ? whole : whole + alone_.weight() * (alone - whole);
    }

    [[nodiscard]] double uncertainty() const {
        if (alone_.weight() == 0.0) return std::sqrt(doubt_of_string(whole_, tracks_));
        const double apart = alone_.choice().belief().log_lowest - whole_.belief().log_lowest;
        return std::sqrt(
            weighed(doubt_of_string(whole_, tracks_), doubt_of_lowest(alone_.choice(), whole_, tracks_)) +
            alone_.weight() * (1.0 - alone_.weight()) * apart * apart);
    }

    // Partials that tell another pitch than the period does are not those of the string that was plucked.
    [[nodiscard]] bool near(Hertz coarse) const {
        return std::abs(fit_.string().law.log_lowest - std::log(coarse.value())) < as_the_period;
    }

    // A quarter of the glide or more was still to come when the note ended.
    [[nodiscard]] bool still_gliding() const {
        const double end = tracks_.time(tracks_.length() - 1);
        const StringLaw& law = shown().string().law;
        return law.glide > 0.0 && law.faded(end) > 0.25;
    }

    Hertz lowest_;
    Hertz highest_;
    PeriodFinder period_;
    PartialTracks raw_;
    PartialTracks tracks_;
    StringFit fit_;
    FoundString in_one_plane_;
    ModelChoice whole_;
    LowestAlone alone_;
    OddPartialFinder odd_;
    HumFinder hum_;
    ToneRemover remover_;
};

PitchEstimator::PitchEstimator(Hertz lowest, Hertz highest)
    : work_{std::make_unique<Work>(lowest, highest)} {}
PitchEstimator::~PitchEstimator() = default;
PitchEstimator::PitchEstimator(PitchEstimator&&) noexcept = default;
PitchEstimator& PitchEstimator::operator=(PitchEstimator&&) noexcept = default;

std::optional<PitchReading> PitchEstimator::estimate(const Pluck& pluck) { return work_->estimate(pluck); }

}  // namespace midspan
