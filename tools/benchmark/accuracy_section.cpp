// accuracy_section.cpp: error against noise and length, beside what is possible at all.
//
// Room: tools/benchmark. May include: ground, notes, pitch, tests/support.
#include <fmt/format.h>

#include <array>
#include <cmath>
#include <vector>

#include "benchmark/cramer_rao.hpp"
#include "benchmark/listening.hpp"
#include "benchmark/reference_pitch.hpp"
#include "benchmark/section.hpp"
#include "benchmark/statistics.hpp"
#include "benchmark/trial.hpp"
#include "support/disturbances.hpp"

namespace midspan::benchmark {
namespace {

constexpr std::array<double, 4> durations{0.5, 1.0, 2.0, 4.0};
constexpr std::array<double, 6> signal_to_noise{10.0, 20.0, 30.0, 40.0, 50.0, 60.0};

PartialModel model_of(const test::PluckedString& note) {
    PartialModel model{
        note.fundamental, note.inharmonicity, std::exp2(note.glide.value() / 1200.0) - 1.0, note.decay, {}};
    for (int k = 1; k <= note.partials; ++k) {
        const double amplitude = test::partial_amplitude(note, k, trial_rate);
        if (amplitude == 0.0) continue;
        model.partials.push_back(
            {k, amplitude, 0.0, (1.0 + note.loss_rise * (k * k - 1)) / note.decay.value()});
    }
    return model;
}

/// Error and bound of the notes of one length and noise.
struct Cell {
    std::vector<double> errors;          ///< cents
    std::vector<double> over_bound;      ///< error / bound
    std::vector<double> bounds;          ///< cents
    std::vector<double> library_errors;  ///< of aubio's mcomb within half a semitone, longest notes only
};

class Grid {
public:
    Grid(bool gliding, int strings) : gliding_{gliding} {
        for (std::size_t d = 0; d < durations.size(); ++d) {
            for (int string = 0; string < strings; ++string)
                pluck(d, 100 * d + static_cast<std::size_t>(string));
        }
    }

    [[nodiscard]] const Cell& at(std::size_t duration, std::size_t snr) const {
        return cells_[duration][snr];
    }
    [[nodiscard]] int lost() const { return lost_; }

    /// Error / bound of all cells.
    [[nodiscard]] std::vector<double> over_bound() const {
        std::vector<double> all;
        for (const auto& row : cells_) {
            for (const Cell& cell : row)
                all.insert(all.end(), cell.over_bound.begin(), cell.over_bound.end());
        }
        return all;
    }

private:
    void pluck(std::size_t d, std::uint64_t seed) {
        const Seconds duration{durations[d]};
        const test::PluckedString note = draw_plain_note(gliding_, duration, 7 * seed + 1);
        std::vector<double> quiet(
            static_cast<std::size_t>((trial_lead + duration + Seconds{0.4}).value() * trial_rate.value()));
        test::add_pluck(quiet, trial_rate, trial_lead, note);
        const double power =
            test::mean_square(quiet, trial_rate, trial_lead, trial_lead + std::min(duration, Seconds{1.0}));
        // Begins where the attack's noise is over; the bound for noise of 1 is the one for any.
        const PitchBound bound = cramer_rao_bound(model_of(note), {.glide = gliding_, .glide_time = gliding_},
                                                  {Seconds{0.045}, duration, trial_rate, 1.0});
        for (std::size_t s = 0; s < signal_to_noise.size(); ++s) {
            const double noise = std::sqrt(power * std::pow(10.0, -0.1 * signal_to_noise[s]));
            std::vector<double> sound = quiet;
            test::add_white_noise(sound, noise, 31 * seed + s);
            listen(cells_[d][s], test::floats(sound), note, noise * bound.pitch().value());
        }
    }

    void listen(Cell& cell, const std::vector<float>& samples, const test::PluckedString& note,
                double bound) {
        const auto result = heard(samples, trial_rate, trial_lead, estimator_);
        if (!result) {
            ++lost_;
            return;
        }
        const double error = interval(note.fundamental, result->reading.frequency).value();
        cell.errors.push_back(error);
        cell.over_bound.push_back(error / bound);
        cell.bounds.push_back(bound);
        if (note.duration < Seconds{durations.back()}) return;  // only those are drawn
        const auto from = static_cast<std::size_t>((trial_lead.value() + 0.045) * trial_rate.value());
        const auto count = static_cast<std::size_t>((note.duration.value() - 0.045) * trial_rate.value());
        const auto other = aubio_pitch({"mcomb", 4096}, std::span{samples}.subspan(from, count), trial_rate);
        if (!other) return;
        const double off = interval(note.fundamental, *other).value();
        if (std::abs(off) < 50.0) cell.library_errors.push_back(off);
    }

    bool gliding_;
    PitchEstimator estimator_{lowest_of_guitar, highest_of_guitar};
    std::array<std::array<Cell, signal_to_noise.size()>, durations.size()> cells_;
    int lost_ = 0;
};

Panel panel_of(const Grid& grid, const char* title) {
    Panel panel{title,
                {"signal to noise, dB", 10.0, 60.0, false, 5},
                {"error of the pitch (RMS), cents", 1e-6, 10.0, true},
                {}};
    std::vector<Curve> limits;
    for (std::size_t d = 0; d < durations.size(); ++d) {
        Curve ours{fmt::format("midspan, {:g} s", durations[d]), {}, static_cast<int>(d), false};
        Curve limit{fmt::format("Cramér-Rao bound, {:g} s", durations[d]), {}, static_cast<int>(d), true};
        for (std::size_t s = 0; s < signal_to_noise.size(); ++s) {
            const Cell& cell = grid.at(d, s);
            ours.points.push_back({signal_to_noise[s], root_mean_square(cell.errors)});
            limit.points.push_back({signal_to_noise[s], root_mean_square(cell.bounds)});
        }
        panel.curves.push_back(std::move(ours));
        limits.push_back(std::move(limit));
    }
    panel.curves.insert(panel.curves.end(), limits.begin(), limits.end());
    Curve library{"aubio mcomb, 4 s", {}, 7, false};
    for (std::size_t s = 0; s < signal_to_noise.size(); ++s) {
        library.points.push_back(
            {signal_to_noise[s], root_mean_square(grid.at(durations.size() - 1, s).library_errors)});
    }
    panel.curves.push_back(std::move(library));
    return panel;
}

Table table_of(const Grid& grid, const char* name, const char* title) {
    Table table{name,
                title,
                {"length s", "SNR dB", "notes", "RMS error cents", "bound cents", "RMS of error/bound",
                 "median |error| cents"},
                {}};
    for (std::size_t d = 0; d < durations.size(); ++d) {
        for (std::size_t s = 0; s < signal_to_noise.size(); ++s) {
            const Cell& cell = grid.at(d, s);
            std::vector<double> sizes;
            for (const double error : cell.errors)
                sizes.push_back(std::abs(error));
            table.rows.push_back({durations[d], signal_to_noise[s], static_cast<double>(cell.errors.size()),
                                  root_mean_square(cell.errors), root_mean_square(cell.bounds),
                                  root_mean_square(cell.over_bound), quantile(sizes, 0.5)});
        }
    }
    return table;
}

void add_figures(Report& report, const Grid& grid, const char* of, double goal) {
    const std::vector<double> all = grid.over_bound();
    std::vector<double> sizes;
    for (const double ratio : all)
        sizes.push_back(std::abs(ratio));
    // Half of a normal distribution lies within 0.6745 standard deviations.
    report.figures.push_back({fmt::format("RMS error / Cramér-Rao bound, 0.5 to 4 s, 10 to 60 dB, {}", of),
                              root_mean_square(all), "×", goal});
    report.figures.push_back(
        {"the same from the median error, whatever the outliers", quantile(sizes, 0.5) / 0.6745, "×", goal});
}

}  // namespace

void accuracy_section(const Settings& settings, Report& report) {
    const int strings = settings.trials_or(14);
    const Grid still{false, strings};
    const Grid gliding{true, strings};
    add_figures(report, still, "no glide", 1.2);
    add_figures(report, gliding, "gliding, its time constant unknown", 1.6);
    report.tables.push_back(table_of(still, "accuracy_still", "Pitch of a fretted note without glide"));
    report.tables.push_back(
        table_of(gliding, "accuracy_gliding", "Pitch of a fretted note with a glide of 2 to 20 cents"));
    report.charts.push_back({"accuracy",
                             "How far the measured pitch is from the truth",
                             {panel_of(still, "no glide"), panel_of(gliding, "gliding by 2 to 20 cents")}});
    if (still.lost() + gliding.lost() > 0) {
        report.remarks.push_back(
            fmt::format("accuracy: {} notes had no pitch", still.lost() + gliding.lost()));
    }
}

}  // namespace midspan::benchmark
