// first_reading_section.cpp: what is known of a note while it still rings.
//
// Room: tools/benchmark. May include: ground, notes, pitch, tests/support.
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "benchmark/cpu_time.hpp"
#include "benchmark/listening.hpp"
#include "benchmark/section.hpp"
#include "benchmark/statistics.hpp"
#include "benchmark/trial.hpp"
#include "midspan/notes/pluck_finder.hpp"
#include "midspan/pitch/surest_reading.hpp"

namespace midspan::benchmark {
namespace {

/// After the pluck.
constexpr std::array<double, 6> moments{0.2, 0.3, 0.6, 1.2, 2.0, 2.4};
constexpr std::size_t verdict_moment = 3;
constexpr std::size_t first_moment = 1;

struct Moment {
    int looks = 0;
    std::vector<double> errors;         ///< cents
    std::vector<double> uncertainties;  ///< cents
    int wider = 0;                      ///< readings less certain than the one before
    double work = 0.0;                  ///< seconds of processor time

    [[nodiscard]] double percent_within(double cents) const {
        double count = 0.0;
        for (const double error : errors)
            count += error <= cents ? 1.0 : 0.0;
        return 100.0 * count / looks;
    }
    [[nodiscard]] double percent_honest() const {
        double count = 0.0;
        for (std::size_t i = 0; i < errors.size(); ++i)
            count += errors[i] <= 2.0 * uncertainties[i] ? 1.0 : 0.0;
        return 100.0 * count / static_cast<double>(errors.size());
    }
};

using Moments = std::array<Moment, moments.size()>;

/// Feeds a note in blocks of 5 ms, as a sound device does, and looks at it at each of the moments.
void listen(const TrialNote& note, Seconds duration, PitchEstimator& estimator, Moments& found) {
    constexpr std::size_t block = 240;
    PluckFinder finder{trial_rate, lowest_of_guitar};
    const auto finished = [](const Pluck&) {};
    std::size_t fed = 0;
    SurestReading known;
    for (std::size_t i = 0; i < moments.size() && moments[i] < duration.value(); ++i) {
        const auto until = static_cast<std::size_t>((trial_lead.value() + moments[i]) * trial_rate.value());
        while (fed + block <= until) {
            finder.feed(std::span{note.samples}.subspan(fed, block), finished);
            fed += block;
        }
        ++found[i].looks;
        const auto pluck = finder.ringing();
        if (!pluck) continue;
        CpuWatch watch;
        watch.start();
        const auto reading = estimator.estimate(*pluck);
        watch.stop();
        if (!reading) continue;
        found[i].work += watch.total().value();
        const auto before = known.believed();
        const PitchReading& now = known.look(*reading);
        found[i].errors.push_back(magnitude(interval(note.truth, now.frequency)).value());
        found[i].uncertainties.push_back(now.uncertainty.value());
        if (before && now.uncertainty > before->uncertainty) ++found[i].wider;
    }
}

Panel panel_of(const Moments& found) {
    Panel panel{"plucks of 40 to 60 dB, gliding by up to 20 cents",
                {"after the pluck, s", 0.0, 2.5, false, 5},
                {"cents", 1e-4, 100.0, true},
                {}};
    Curve half{"error, median", {}, 0};
    Curve most{"error, 95 % below", {}, 1};
    Curve stated{"stated uncertainty, median", {}, 2};
    for (std::size_t i = 0; i < moments.size(); ++i) {
        half.points.push_back({moments[i], quantile(found[i].errors, 0.5)});
        most.points.push_back({moments[i], quantile(found[i].errors, 0.95)});
        stated.points.push_back({moments[i], quantile(found[i].uncertainties, 0.5)});
    }
    panel.curves = {half, most, stated};
    return panel;
}

}  // namespace

void first_reading_section(const Settings& settings, Report& report) {
    PitchEstimator estimator{lowest_of_guitar, highest_of_guitar};
    Moments found;
    for (int i = 0; i < settings.trials_or(200); ++i) {
        const Physics physics = i % 2 == 0 ? Physics::modes : Physics::finite_differences;
        const TrialPair pair = draw_pair(physics, Hardship::ordinary, 30'000 + static_cast<std::uint64_t>(i));
        for (const TrialNote* note : {&pair.harmonic, &pair.fretted})
            listen(*note, pair.conditions.duration, estimator, found);
    }
    Table table{
        "first_reading",
        "A note while it rings, half of them of finite-difference strings: 40 to 60 dB, gliding by up to 20 "
        "cents",
        {"after s", "notes", "with a reading %", "median |error| cents", "95 % cents", "within 2 cents %",
         "median u cents", "95 % u cents", "truth within 2 u %", "wider than before %", "ms to estimate"},
        {}};
    for (std::size_t i = 0; i < moments.size(); ++i) {
        const Moment& at = found[i];
        const auto readings = static_cast<double>(at.errors.size());
        table.rows.push_back({moments[i], static_cast<double>(at.looks), 100.0 * readings / at.looks,
                              quantile(at.errors, 0.5), quantile(at.errors, 0.95), at.percent_within(2.0),
                              quantile(at.uncertainties, 0.5), quantile(at.uncertainties, 0.95),
                              at.percent_honest(), 100.0 * at.wider / readings, 1000.0 * at.work / readings});
    }
    report.tables.push_back(std::move(table));
    report.figures.push_back({"0.3 s after the pluck: error, 95 % below",
                              quantile(found[first_moment].errors, 0.95), "cent", 2.0});
    report.figures.push_back(
        {"0.3 s after the pluck: truth within ± 2 u", found[first_moment].percent_honest(), "%", 99.5, 93.0});
    report.figures.push_back({"1.2 s after the pluck: twice the stated uncertainty, median",
                              2.0 * quantile(found[verdict_moment].uncertainties, 0.5), "cent", 0.3});
    report.charts.push_back({"first_reading", "The first reading, and how it tightens", {panel_of(found)}});
}

}  // namespace midspan::benchmark
