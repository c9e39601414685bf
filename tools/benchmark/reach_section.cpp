// reach_section.cpp: from the lowest string of a bass to the last fret, at every usual sample rate.
//
// Room: tools/benchmark. May include: ground, notes, pitch, tests/support.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <string>
#include <utility>
#include <vector>

#include "benchmark/listening.hpp"
#include "benchmark/section.hpp"
#include "benchmark/statistics.hpp"
#include "benchmark/trial.hpp"
#include "support/disturbances.hpp"
#include "support/random_numbers.hpp"

namespace midspan::benchmark {
namespace {

struct UsualNote {
    const char* name;
    Hertz frequency;
    double inharmonicity;  ///< B of the note; what is drawn is at most 1.4 times more or less
    Seconds dies_first;    ///< time constant of the lowest partial
    Seconds dies_last;
};

// Stopped at fret n a string has 2^(n/6) times the B it has open. The basses lie to both sides of B = 3.1e-4,
// which is that of Kemp 2020 (SN Applied Sciences 2:636, abstract): stopped at the 12th fret, its partial 10
// stands about 100 cents off. The guitar's are those in trial.cpp. Decays are common values, from memory.
constexpr std::array<UsualNote, 5> usual_notes{
    {{"B0, bass, open", Hertz{30.868}, 4.2e-4, Seconds{1.0}, Seconds{3.0}},
     {"E1, bass, open", Hertz{41.203}, 2.0e-4, Seconds{1.0}, Seconds{3.0}},
     {"E2, open", Hertz{82.407}, 1.37e-4, Seconds{0.7}, Seconds{1.8}},
     {"E5, 12th fret", Hertz{659.255}, 8.8e-5, Seconds{0.4}, Seconds{1.0}},
     {"E6, 24th fret", Hertz{1318.510}, 3.5e-4, Seconds{0.2}, Seconds{0.6}}}};
constexpr std::array<double, 5> rates{22050.0, 44100.0, 48000.0, 96000.0, 192000.0};
constexpr Hertz lowest_asked{25.0};
constexpr Hertz highest_asked{1500.0};

/// What was read of the plucks of one note at one rate.
struct Readings {
    std::vector<double> errors;  ///< cents, magnitude
    int honest = 0;              ///< within twice the stated uncertainty
    int lost = 0;                ///< not heard, or taken for another note
};

void hear(const UsualNote& usual, Hertz rate, bool beating, std::uint64_t seed, PitchEstimator& estimator,
          Readings& readings) {
    test::RandomNumbers random{seed};
    test::PluckedString note = draw_manner(Seconds{random.uniform(1.0, 4.0)}, random);
    note.fundamental = raised(usual.frequency, Cents{random.uniform(-30.0, 30.0)});
    note.inharmonicity = usual.inharmonicity * std::exp(random.uniform(-0.35, 0.35));
    note.decay = Seconds{random.uniform(usual.dies_first.value(), usual.dies_last.value())};
    note.glide = Cents{random.uniform(0.0, 12.0)};
    // As far up as the lowest of the rates lets hear, so that it is the same sound at all of them.
    note.partials = std::min(60, static_cast<int>(10000.0 / note.fundamental.value()));
    if (beating) note.second_plane = draw_second_plane(note.decay, random);

    const Seconds whole = trial_lead + note.duration + Seconds{0.4};
    std::vector<double> sound(static_cast<std::size_t>(whole.value() * rate.value()));
    test::add_pluck(sound, rate, trial_lead, note);
    // As dense at every rate as noise of 30 to 60 dB is at the trials' one.
    const Decibels snr{random.uniform(30.0, 60.0) - 10.0 * std::log10(rate / trial_rate)};
    test::add_white_noise(sound, rate, snr, trial_lead, note.seed + 1);
    const auto result = heard(test::floats(sound), rate, trial_lead, estimator, lowest_asked);
    const double error =
        result ? std::abs(interval(note.fundamental, result->reading.frequency).value()) : 1200.0;
    if (error > 50.0) {
        ++readings.lost;
        return;
    }
    readings.errors.push_back(error);
    if (error <= 2.0 * result->reading.uncertainty.value()) ++readings.honest;
}

Readings hear_all(const UsualNote& usual, Hertz rate, int plucks, std::uint64_t first_seed,
                  PitchEstimator& estimator) {
    Readings readings;
    for (int i = 0; i < plucks; ++i) {
        // Just half of them beat: by chance the median would fall among these or among those.
        hear(usual, rate, i % 2 == 1, first_seed + static_cast<std::uint64_t>(i), estimator, readings);
    }
    return readings;
}

}  // namespace

void reach_section(const Settings& settings, Report& report) {
    PitchEstimator estimator{lowest_asked, highest_asked};
    const int plucks = settings.trials_or(50);
    std::vector<std::string> columns{"note"};
    for (const double rate : rates)
        columns.push_back(fmt::format("{:g} kHz", 0.001 * rate));
    Table medians{
        "reach_median",
        "Median |error| in cents, by sample rate: 30 to 60 dB, 1 to 4 s, gliding by up to 12 cents, "
        "half of them beating; read between 25 and 1500 Hz",
        columns,
        {}};
    Table most{"reach_95", "95 % of |error| below, cents: the same plucks", columns, {}};
    double read = 0.0;
    double honest = 0.0;
    double lost = 0.0;
    double worst = 0.0;
    std::uint64_t seed = 60'000;
    for (const UsualNote& usual : usual_notes) {
        medians.rows.push_back({std::string{usual.name}});
        most.rows.push_back({std::string{usual.name}});
        for (const double rate : rates) {
            const Readings readings = hear_all(usual, Hertz{rate}, plucks, seed, estimator);
            seed += 1000;
            read += static_cast<double>(readings.errors.size());
            honest += readings.honest;
            lost += readings.lost;
            const double median = quantile(readings.errors, 0.5);
            worst = std::max(worst, median);
            medians.rows.back().emplace_back(median);
            most.rows.back().emplace_back(quantile(readings.errors, 0.95));
            if (readings.lost == 0) continue;
            report.remarks.push_back(
                fmt::format("reach: {} at {:g} kHz: {} of {} notes not heard, or taken for another note",
                            usual.name, 0.001 * rate, readings.lost, plucks));
        }
    }
    report.tables.push_back(std::move(medians));
    report.tables.push_back(std::move(most));
    report.figures.push_back(
        {"B0 to E6, 22.05 to 192 kHz: notes taken for another note, or not heard", lost, "", 0.0});
    report.figures.push_back(
        {"B0 to E6, 22.05 to 192 kHz: truth within ± 2 u", 100.0 * honest / read, "%", 99.5, 93.0});
    report.figures.push_back(
        {"B0 to E6, 22.05 to 192 kHz: median error of the worst note and rate", worst, "cent", 0.015});
}

}  // namespace midspan::benchmark
