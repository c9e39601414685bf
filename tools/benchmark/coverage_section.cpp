// coverage_section.cpp: how often the truth lies within twice the stated uncertainty.
//
// Room: tools/benchmark. May include: ground, notes, pitch, tests/support.
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <span>
#include <vector>

#include "benchmark/listening.hpp"
#include "benchmark/section.hpp"
#include "benchmark/statistics.hpp"
#include "benchmark/trial.hpp"

namespace midspan::benchmark {
namespace {

struct Outcome {
    Conditions conditions;
    double error;        ///< cents
    double uncertainty;  ///< cents, k = 1
};

struct Stratum {
    const char* name;
    bool (*holds)(const Conditions&);
};

constexpr std::array<Stratum, 7> strata{{
    {"all", [](const Conditions&) { return true; }},
    {"short, below 1 s", [](const Conditions& c) { return c.duration < Seconds{1.0}; }},
    {"noisy, below 25 dB", [](const Conditions& c) { return c.snr < Decibels{25.0}; }},
    {"strong glide, above 8 cents", [](const Conditions& c) { return c.glide > Cents{8.0}; }},
    {"beating", [](const Conditions& c) { return c.beating; }},
    {"hum", [](const Conditions& c) { return c.hum; }},
    {"long and quiet, one plane",
     [](const Conditions& c) { return c.duration > Seconds{2.0} && c.snr > Decibels{40.0} && !c.beating; }},
}};

std::vector<Outcome> outcomes(Physics physics, int pairs, std::uint64_t seed, int& unheard) {
    PitchEstimator estimator{lowest_of_guitar, highest_of_guitar};
    std::vector<Outcome> all;
    for (int i = 0; i < pairs; ++i) {
        const TrialPair pair = draw_pair(physics, Hardship::mixed, seed + static_cast<std::uint64_t>(i));
        for (const TrialNote* note : {&pair.harmonic, &pair.fretted}) {
            const auto result = heard(note->samples, trial_rate, trial_lead, estimator);
            if (!result) {
                ++unheard;
                continue;
            }
            all.push_back({pair.conditions, interval(note->truth, result->reading.frequency).value(),
                           result->reading.uncertainty.value()});
        }
    }
    return all;
}

/// Percent of the outcomes in a stratum whose truth lies within k standard uncertainties.
double coverage(std::span<const Outcome> outcomes, const Stratum& stratum, double k) {
    double inside = 0.0;
    double count = 0.0;
    for (const Outcome& outcome : outcomes) {
        if (!stratum.holds(outcome.conditions)) continue;
        count += 1.0;
        inside += std::abs(outcome.error) <= k * outcome.uncertainty ? 1.0 : 0.0;
    }
    return 100.0 * inside / count;
}

void add_rows(Table& table, const char* physics, std::span<const Outcome> outcomes) {
    for (const Stratum& stratum : strata) {
        std::vector<double> errors;
        std::vector<double> uncertainties;
        for (const Outcome& outcome : outcomes) {
            if (!stratum.holds(outcome.conditions)) continue;
            errors.push_back(std::abs(outcome.error));
            uncertainties.push_back(outcome.uncertainty);
        }
        if (errors.empty()) continue;
        table.rows.push_back({fmt::format("{}: {}", physics, stratum.name),
                              static_cast<double>(errors.size()), coverage(outcomes, stratum, 1.0),
                              coverage(outcomes, stratum, 2.0), coverage(outcomes, stratum, 3.0),
                              quantile(errors, 0.5), quantile(uncertainties, 0.5)});
    }
}

Curve curve_of(const char* label, std::span<const Outcome> outcomes, const Stratum& stratum, int colour) {
    Curve curve{label, {}, colour};
    for (int i = 0; i <= 32; ++i) {
        const double k = 0.125 * i;
        curve.points.push_back({k, coverage(outcomes, stratum, k)});
    }
    return curve;
}

Panel panel_of(const char* title, std::span<const Outcome> outcomes) {
    Panel panel{title,
                {"multiple of the stated standard uncertainty", 0.0, 4.0, false, 4},
                {"notes whose truth lies within, %", 0.0, 100.0, false, 5},
                {}};
    for (std::size_t i = 0; i < 5; ++i)
        panel.curves.push_back(curve_of(strata[i].name, outcomes, strata[i], static_cast<int>(i)));
    Curve normal{"normal distribution", {}, 7, true};
    for (int i = 0; i <= 32; ++i)
        normal.points.push_back({0.125 * i, 100.0 * std::erf(0.125 * i / std::sqrt(2.0))});
    panel.curves.push_back(std::move(normal));
    return panel;
}

}  // namespace

void coverage_section(const Settings& settings, Report& report) {
    int unheard = 0;
    const std::vector<Outcome> modal = outcomes(Physics::modes, settings.trials_or(700), 10'000, unheard);
    const std::vector<Outcome> stiff =
        outcomes(Physics::finite_differences, settings.trials_or(300), 20'000, unheard);
    std::vector<Outcome> both = modal;
    both.insert(both.end(), stiff.begin(), stiff.end());

    Table table{"coverage",
                "How often the truth lies within k standard uncertainties, hard mix",
                {"notes", "count", "within 1 u %", "within 2 u %", "within 3 u %", "median |error| cents",
                 "median u cents"},
                {}};
    add_rows(table, "both", both);
    add_rows(table, "modes", modal);
    add_rows(table, "finite differences", stiff);
    report.tables.push_back(std::move(table));
    for (std::size_t i = 0; i < 5; ++i) {
        report.figures.push_back({fmt::format("truth within ± 2 u: {}", strata[i].name),
                                  coverage(both, strata[i], 2.0), "%", 99.5, 93.0});
    }
    report.figures.push_back({"truth within ± 2 u: plucks made of partials alone",
                              coverage(modal, strata[0], 2.0), "%", 99.5, 93.0});
    report.figures.push_back({"truth within ± 2 u: finite-difference string alone",
                              coverage(stiff, strata[0], 2.0), "%", 99.5, 93.0});
    if (unheard > 0) report.remarks.push_back(fmt::format("coverage: {} notes had no pitch", unheard));
    report.charts.push_back({"coverage",
                             "How honest the stated uncertainty is",
                             {panel_of("modes", modal), panel_of("finite differences", stiff)}});
}

}  // namespace midspan::benchmark
