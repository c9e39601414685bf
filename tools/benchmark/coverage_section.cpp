// coverage_section.cpp: how often the truth lies within twice the stated uncertainty.
//
// Room: tools/benchmark. May include: ground, notes, pitch, tests/support.
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <cstdint>
#include <span>
#include <string>
#include <utility>
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

/// What was heard of strings of one kind.
struct Kind {
    std::string name;
    std::vector<Outcome> outcomes;
    int unheard = 0;
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

/// What sounds along.
struct Accompaniment {
    const char* name;
    Company company;
    std::uint64_t seed;
};

constexpr std::array<Accompaniment, 3> accompaniments{{
    {"1/f noise instead of white", Company::pink_noise, 22'000},
    {"sympathetic strings ring along", Company::open_strings, 23'000},
    {"hum 20 to 40 dB below", Company::loud_hum, 24'000},
}};

Kind heard_kind(const char* name, Physics physics, int pairs, std::uint64_t seed,
                Company company = Company::none) {
    PitchEstimator estimator{lowest_of_guitar, highest_of_guitar};
    Kind kind{name, {}, 0};
    for (int i = 0; i < pairs; ++i) {
        const TrialPair pair =
            draw_pair(physics, Hardship::mixed, seed + static_cast<std::uint64_t>(i), company);
        for (const TrialNote* note : {&pair.harmonic, &pair.fretted}) {
            const auto result = heard(note->samples, trial_rate, trial_lead, estimator);
            if (!result) {
                ++kind.unheard;
                continue;
            }
            kind.outcomes.push_back({pair.conditions,
                                     interval(note->truth, result->reading.frequency).value(),
                                     result->reading.uncertainty.value()});
        }
    }
    return kind;
}

Kind pooled(const char* name, const Kind& one, const Kind& other) {
    Kind both{name, one.outcomes, one.unheard + other.unheard};
    both.outcomes.insert(both.outcomes.end(), other.outcomes.begin(), other.outcomes.end());
    return both;
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

void add_row(Table& table, std::string label, std::span<const Outcome> outcomes, const Stratum& stratum) {
    std::vector<double> errors;
    std::vector<double> uncertainties;
    for (const Outcome& outcome : outcomes) {
        if (!stratum.holds(outcome.conditions)) continue;
        errors.push_back(std::abs(outcome.error));
        uncertainties.push_back(outcome.uncertainty);
    }
    if (errors.empty()) return;
    table.rows.push_back({std::move(label), static_cast<double>(errors.size()),
                          coverage(outcomes, stratum, 1.0), coverage(outcomes, stratum, 2.0),
                          coverage(outcomes, stratum, 3.0), quantile(errors, 0.5),
                          quantile(uncertainties, 0.5)});
}

void add_rows(Table& table, const Kind& kind) {
    for (const Stratum& stratum : strata)
        add_row(table, fmt::format("{}: {}", kind.name, stratum.name), kind.outcomes, stratum);
}

void add_figure(Report& report, const char* name, const Kind& kind, const Stratum& stratum, double at_most) {
    report.figures.push_back({fmt::format("truth within ± 2 u: {}", name),
                              coverage(kind.outcomes, stratum, 2.0), "%", at_most, 93.0});
}

void remark_unheard(Report& report, const std::string& name, int unheard) {
    if (unheard == 0) return;
    report.remarks.push_back(fmt::format("coverage: {}: {} notes had no pitch", name, unheard));
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
    const Kind modal = heard_kind("modes", Physics::modes, settings.trials_or(700), 10'000);
    const Kind stiff =
        heard_kind("finite differences", Physics::finite_differences, settings.trials_or(600), 20'000);
    const Kind astray = heard_kind("partials astray", Physics::astray, settings.trials_or(300), 21'000);
    const Kind both = pooled("both", modal, stiff);

    Table table{"coverage",
                "How often the truth lies within k standard uncertainties, hard mix; both: modes and finite "
                "differences",
                {"notes", "count", "within 1 u %", "within 2 u %", "within 3 u %", "median |error| cents",
                 "median u cents"},
                {}};
    for (const Kind* kind : {&both, &modal, &stiff, &astray})
        add_rows(table, *kind);
    for (std::size_t i = 0; i < 5; ++i)
        add_figure(report, strata[i].name, both, strata[i], 99.5);
    add_figure(report, "plucks made of partials alone", modal, strata[0], 99.5);
    add_figure(report, "finite-difference string alone", stiff, strata[0], 99.5);
    // No bound from above. Such a string tells that its partials disagree, hardly by which law: whoever
    // allows for more than there was errs to the side that costs another pluck, never a wrong turn of the
    // screw.
    add_figure(report, "strings whose partials go their own ways", astray, strata[0], 100.0);
    for (const Kind* kind : {&modal, &stiff, &astray})
        remark_unheard(report, kind->name, kind->unheard);

    const int in_company = settings.trials_or(150);
    for (const Accompaniment& with : accompaniments) {
        const Kind of_modes = heard_kind("modes", Physics::modes, in_company, with.seed, with.company);
        const Kind of_stiff = heard_kind("finite differences", Physics::finite_differences, in_company,
                                         with.seed + 5'000, with.company);
        const Kind of_both = pooled("both", of_modes, of_stiff);
        for (const Kind* kind : {&of_both, &of_modes, &of_stiff})
            add_row(table, fmt::format("{}: {}", kind->name, with.name), kind->outcomes, strata[0]);
        add_figure(report, with.name, of_both, strata[0], 99.5);
        remark_unheard(report, with.name, of_both.unheard);
    }
    report.tables.push_back(std::move(table));

    report.charts.push_back(
        {"coverage",
         "How honest the stated uncertainty is",
         {panel_of("modes", modal.outcomes), panel_of("finite differences", stiff.outcomes),
          panel_of("partials that go their own ways", astray.outcomes)}});
}

}  // namespace midspan::benchmark
