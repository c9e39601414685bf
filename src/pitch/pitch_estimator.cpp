// pitch_estimator.cpp: one pluck to its pitch, with everything that is uncertain about it.
//
// Room: pitch. Pure. May include: ground, notes.
#include "midspan/pitch/pitch_estimator.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "pitch/odd_partials.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/periodicity.hpp"
#include "pitch/string_fit.hpp"

namespace midspan {
namespace {

constexpr double cents_per_log = 1731.234049066756;  // 1200 / ln 2
constexpr Decibels least_explained{6.0};             // a tone that follows no string is none

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
        if (fit_.partials().empty()) return std::nullopt;
        const Decibels explained = signal_to_noise();
        if (explained < least_explained) return std::nullopt;

        PitchReading reading;
        const StringLaw& law = fit_.law();
        reading.frequency = Hertz{std::exp(law.log_lowest)};
        reading.uncertainty = Cents{cents_per_log * fit_.deviations().log_lowest};
        reading.inharmonicity = law.inharmonicity;
        reading.inharmonicity_uncertainty = fit_.deviations().inharmonicity;
        reading.glide = Cents{cents_per_log * law.glide};
        reading.glide_time = Seconds{std::exp(law.log_glide_time)};
        reading.partials = static_cast<int>(fit_.partials().size());
        reading.span = pluck.usable_duration();
        reading.signal_to_noise = explained;
        const OddPartialLevels levels = odd_.find(samples, pluck.sample_rate, law);
        reading.odd_partials = levels.odd;
        reading.odd_partials_floor = levels.floor;
        reading.beating = beating_;
        return reading;
    }

private:
    // The law from the lowest few partials over a growing span, so that the phase is never lost; then the
    // partials with that law taken out, slow and short, all of them together.
    void fit() {
        constexpr int first_partials = 5;
        const std::size_t whole = raw_.length();
        auto span = std::min(whole, std::max<std::size_t>(6, static_cast<std::size_t>(0.3 / raw_.hop())));
        fit_.begin(raw_, span, first_partials);
        FreeParts free;
        while (true) {
            fit_.run(raw_, span, free, 4);
            if (span == whole) break;
            span = std::min(whole, 2 * span);
            free.glide = true;
        }
        free.glide = true;
        fit_.run(raw_, whole, free, 4);

        const auto count = std::clamp<std::size_t>(static_cast<std::size_t>(0.065 / raw_.hop()), 1,
                                                   std::max<std::size_t>(1, whole / 24));
        tracks_.settle(raw_, fit_.law(), count);
        fit_.restart(tracks_, fit_.law(), first_partials);
        fit_.run(tracks_, tracks_.length(), free, 4);
        fit_.widen(tracks_, tracks_.length(), 10);
        fit_.run(tracks_, tracks_.length(), free, 4);
        fit_.widen(tracks_, tracks_.length(), PartialTracks::most_partials);
        fit_.run(tracks_, tracks_.length(), free, 10);
        fit_.run(tracks_, tracks_.length(), free, 10);
        beating_ = false;
        if (fit_.structure_left(tracks_, false) > 0.1) look_for_second_plane(tracks_.length(), free);
    }

    // A second plane of vibration is believed when the likelihood gains more than its unknowns are worth.
    void look_for_second_plane(std::size_t whole, FreeParts free) {
        one_plane_ = fit_;
        double best = 0.0;
        double best_misfit = std::numeric_limits<double>::infinity();
        for (const double cents : {-2.0, -1.2, -0.7, -0.4, -0.2, -0.1, 0.1, 0.2, 0.4, 0.7, 1.2, 2.0}) {
            two_planes_ = one_plane_;
            const double misfit = two_planes_.split_planes(tracks_, whole, cents / cents_per_log);
            if (misfit < best_misfit) {
                best = cents;
                best_misfit = misfit;
            }
        }
        fit_.split_planes(tracks_, whole, best / cents_per_log);
        free.second_plane = true;
        for (int i = 0; i < 4; ++i)
            fit_.run(tracks_, whole, free, 10);
        fit_.order_planes();
        fit_.run(tracks_, whole, free, 4);
        const double unknowns = 3.0 * static_cast<double>(fit_.partials().size()) + 1.0;
        const double worth = unknowns * std::log(2.0 * static_cast<double>(whole));
        if (one_plane_.misfit() - fit_.misfit() > worth) {
            beating_ = true;
        } else {
            fit_ = one_plane_;
        }
    }

    // What the model explains of the strongest partials against what it leaves.
    [[nodiscard]] Decibels signal_to_noise() const {
        double power = 0.0;
        double left = 0.0;
        for (const FittedPartial& partial : fit_.partials()) {
            for (const auto& value : tracks_.tracks()[partial.track].values) {
                power += std::norm(value);
            }
            left += partial.variance * static_cast<double>(tracks_.length());
        }
        return Decibels{10.0 * std::log10(std::max(power - left, 1e-30) / std::max(left, 1e-30))};
    }

    Hertz lowest_;
    Hertz highest_;
    PeriodFinder period_;
    PartialTracks raw_;
    PartialTracks tracks_;
    StringFit fit_;
    StringFit one_plane_;
    StringFit two_planes_;
    OddPartialFinder odd_;
    bool beating_ = false;
};

PitchEstimator::PitchEstimator(Hertz lowest, Hertz highest)
    : work_{std::make_unique<Work>(lowest, highest)} {}
PitchEstimator::~PitchEstimator() = default;
PitchEstimator::PitchEstimator(PitchEstimator&&) noexcept = default;
PitchEstimator& PitchEstimator::operator=(PitchEstimator&&) noexcept = default;

std::optional<PitchReading> PitchEstimator::estimate(const Pluck& pluck) { return work_->estimate(pluck); }

}  // namespace midspan
