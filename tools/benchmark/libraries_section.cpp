// libraries_section.cpp: the same notes through midspan and through the libraries of others.
//
// Room: tools/benchmark. Edge: the disk and another program. May include: ground, notes, pitch,
// tests/support.
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <utility>
#include <vector>

#include "benchmark/cpu_time.hpp"
#include "benchmark/listening.hpp"
#include "benchmark/reference_pitch.hpp"
#include "benchmark/section.hpp"
#include "benchmark/statistics.hpp"
#include "benchmark/trial.hpp"
#include "support/sound_file.hpp"
#include "support/temp_folder.hpp"

namespace midspan::benchmark {
namespace {

constexpr std::array<AubioMethod, 4> aubio_methods{
    {{"mcomb", 4096}, {"fcomb", 8192}, {"yinfft", 4096}, {"yinfast", 4096}}};

/// More than half a semitone off is another note.
constexpr Cents gross{50.0};

/// What one method made of the pairs.
struct Score {
    explicit Score(std::string name) : method{std::move(name)} {}

    void add(const TrialPair& pair, std::optional<Hertz> harmonic, std::optional<Hertz> fretted) {
        ++pairs;
        bool usable = true;
        for (const auto& [truth, pitch] :
             {std::pair{pair.harmonic.truth, harmonic}, std::pair{pair.fretted.truth, fretted}}) {
            if (!pitch) {
                ++silent;
            } else if (magnitude(interval(truth, *pitch)) > gross) {
                ++gross_errors;
            } else {
                continue;
            }
            usable = false;
        }
        if (!usable) return;
        const Cents true_error = interval(pair.harmonic.truth, pair.fretted.truth);
        errors.push_back(magnitude(interval(*harmonic, *fretted) - true_error).value());
    }

    [[nodiscard]] double percent_of_notes(int count) const { return 50.0 * count / pairs; }

    std::string method;
    int pairs = 0;
    int silent = 0;
    int gross_errors = 0;
    std::vector<double> errors;  ///< of the difference, cents, where neither note was silent or gross
    double speed = 0.0;          ///< seconds of sound a second of processor time
};

/// The part of a trial that rings, beyond the noise of its attack.
std::span<const float> ringing(const TrialNote& note, Seconds duration) {
    const auto from = static_cast<std::size_t>((trial_lead.value() + 0.045) * trial_rate.value());
    const auto count = static_cast<std::size_t>((duration.value() - 0.045) * trial_rate.value());
    return std::span{note.samples}.subspan(from, count);
}

using Hear = std::function<std::optional<Hertz>(const TrialNote&, Seconds duration)>;

Score score_of(std::string name, std::span<const TrialPair> pairs, const Hear& hear) {
    Score score{std::move(name)};
    CpuWatch watch;
    double seconds = 0.0;
    for (const TrialPair& pair : pairs) {
        watch.start();
        const auto harmonic = hear(pair.harmonic, pair.conditions.duration);
        const auto fretted = hear(pair.fretted, pair.conditions.duration);
        watch.stop();
        score.add(pair, harmonic, fretted);
        seconds += 2.0 * pair.conditions.duration.value();
    }
    score.speed = seconds / watch.total().value();
    return score;
}

Score praat_score(std::span<const TrialPair> pairs) {
    const test::TempFolder folder;
    std::vector<std::string> paths;
    double seconds = 0.0;
    for (const TrialPair& pair : pairs) {
        for (const TrialNote* note : {&pair.harmonic, &pair.fretted}) {
            paths.push_back(folder.file(fmt::format("{}.wav", paths.size())));
            test::write_sound_file(paths.back(), ringing(*note, pair.conditions.duration), {trial_rate, 1});
        }
        seconds += 2.0 * pair.conditions.duration.value();
    }
    const Seconds began = cpu_time(RUSAGE_CHILDREN);
    const auto pitches = praat_pitches(paths, lowest_of_guitar, highest_of_guitar, folder.path().string());
    Score score{"Praat autocorrelation"};
    score.speed = seconds / (cpu_time(RUSAGE_CHILDREN) - began).value();
    for (std::size_t i = 0; i < pairs.size(); ++i)
        score.add(pairs[i], pitches[2 * i], pitches[2 * i + 1]);
    return score;
}

std::vector<Score> all_scores(std::span<const TrialPair> pairs, bool with_praat) {
    std::vector<Score> scores;
    PitchEstimator estimator{lowest_of_guitar, highest_of_guitar};
    scores.push_back(score_of("midspan", pairs, [&](const TrialNote& note, Seconds) -> std::optional<Hertz> {
        const auto result = heard(note.samples, trial_rate, trial_lead, estimator);
        if (!result) return std::nullopt;
        return result->reading.frequency;
    }));
    for (const AubioMethod& method : aubio_methods) {
        scores.push_back(score_of(fmt::format("aubio {} {}", method.name, method.window), pairs,
                                  [&](const TrialNote& note, Seconds duration) {
                                      return aubio_pitch(method, ringing(note, duration), trial_rate);
                                  }));
    }
    if (with_praat) scores.push_back(praat_score(pairs));
    return scores;
}

std::vector<TrialPair> drawn(Physics physics, Hardship hardship, int count, std::uint64_t seed) {
    std::vector<TrialPair> pairs;
    for (int i = 0; i < count; ++i)
        pairs.push_back(draw_pair(physics, hardship, seed + static_cast<std::uint64_t>(i)));
    return pairs;
}

Table table_of(const std::vector<Score>& scores, std::string name, const char* of) {
    Table table{
        std::move(name),
        fmt::format("Error of the difference fretted minus harmonic, {} pairs: {}", scores[0].pairs, of),
        {"method", "median cents", "95 % cents", "worst cents", "gross notes %", "no pitch %",
         "times real time"},
        {}};
    for (const Score& score : scores) {
        table.rows.push_back({score.method, quantile(score.errors, 0.5), quantile(score.errors, 0.95),
                              quantile(score.errors, 1.0), score.percent_of_notes(score.gross_errors),
                              score.percent_of_notes(score.silent), score.speed});
    }
    return table;
}

/// The share of pairs whose error is below what stands on the other axis.
Curve distribution_of(const Score& score, int colour) {
    Curve curve{score.method, {}, colour};
    constexpr int steps = 120;
    for (int i = 0; i <= steps; ++i) {
        const double error = 1e-4 * std::pow(10.0, 5.0 * i / steps);
        double below = 0.0;
        for (const double value : score.errors)
            below += value <= error ? 1.0 : 0.0;
        curve.points.push_back({error, 100.0 * below / score.pairs});
    }
    return curve;
}

Panel panel_of(const std::vector<Score>& scores, const char* title) {
    Panel panel{title,
                {"error of fretted minus harmonic, cents", 1e-4, 10.0, true},
                {"pairs with no larger error, %", 0.0, 100.0, false, 5},
                {}};
    for (std::size_t i = 0; i < scores.size(); ++i)
        panel.curves.push_back(distribution_of(scores[i], static_cast<int>(i)));
    return panel;
}

/// How many times the best of the others' errors is larger than midspan's.
double lead(const std::vector<Score>& scores, double share) {
    double best = std::numeric_limits<double>::infinity();
    for (std::size_t i = 1; i < scores.size(); ++i) {
        const double error = quantile(scores[i].errors, share);
        if (error < best) best = error;
    }
    return best / quantile(scores[0].errors, share);
}

void add_figures(Report& report, const std::vector<Score>& scores, const std::string& of, double median,
                 std::optional<double> most, std::optional<double> worst) {
    report.figures.push_back({of + ": median error", quantile(scores[0].errors, 0.5), "cent", median});
    if (most) report.figures.push_back({of + ": 95 % below", quantile(scores[0].errors, 0.95), "cent", most});
    if (worst) report.figures.push_back({of + ": worst", quantile(scores[0].errors, 1.0), "cent", worst});
}

}  // namespace

void libraries_section(const Settings& settings, Report& report) {
    const bool praat = praat_is_installed();
    if (!praat) report.remarks.emplace_back("libraries: praat is not installed");

    const auto ordinary =
        all_scores(drawn(Physics::modes, Hardship::ordinary, settings.trials_or(120), 1000), praat);
    const auto mixed =
        all_scores(drawn(Physics::modes, Hardship::mixed, settings.trials_or(200), 2000), praat);
    const auto stiff = all_scores(
        drawn(Physics::finite_differences, Hardship::ordinary, settings.trials_or(40), 3000), praat);

    add_figures(report, ordinary, "plucks of 40 to 60 dB, 2 to 4 s, gliding", 0.005, 0.05, 0.1);
    add_figures(report, mixed, "hard mix (10 to 60 dB, 0.5 to 4 s, glide, beating, hum)", 0.015, 0.5, {});
    report.figures.push_back({"hard mix: notes taken for another note, or not heard",
                              1.0 * mixed[0].gross_errors + mixed[0].silent, "", 0.0});
    report.figures.push_back(
        {"hard mix: median error of the best library, against ours", lead(mixed, 0.5), "×", {}, 10.0});
    report.figures.push_back(
        {"hard mix: 95 % of the best library, against ours", lead(mixed, 0.95), "×", {}, 10.0});
    add_figures(report, stiff, "finite-difference string, 40 to 60 dB, 2 to 4 s", 0.03, {}, 0.3);

    report.tables.push_back(
        table_of(ordinary, "libraries_ordinary", "plucks of 40 to 60 dB, 2 to 4 s, gliding"));
    report.tables.push_back(
        table_of(mixed, "libraries_mixed", "10 to 60 dB, 0.5 to 4 s, glide, beating, hum"));
    report.tables.back().for_readme = true;
    report.tables.push_back(
        table_of(stiff, "libraries_stiff", "finite-difference string, 40 to 60 dB, 2 to 4 s"));
    report.charts.push_back({"libraries",
                             "The same notes through midspan and other libraries",
                             {panel_of(ordinary, "40 to 60 dB, 2 to 4 s, gliding"),
                              panel_of(mixed, "10 to 60 dB, 0.5 to 4 s, beating, hum")}});
}

}  // namespace midspan::benchmark
