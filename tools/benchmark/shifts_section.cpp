// shifts_section.cpp: recorded notes of real instruments, shifted by a known interval.
//
// Room: tools/benchmark. Edge: the disk. May include: ground, notes, pitch, tests/support.
#include <fmt/format.h>
#include <samplerate.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "benchmark/listening.hpp"
#include "benchmark/section.hpp"
#include "benchmark/sound_font.hpp"
#include "benchmark/statistics.hpp"
#include "benchmark/trial.hpp"
#include "support/disturbances.hpp"

namespace midspan::benchmark {
namespace {

/// Instruments by how the names of their recordings begin.
struct RecordedInstrument {
    const char* name;
    std::string_view begins;
};

constexpr std::array<RecordedInstrument, 7> instruments{{
    {"nylon-string guitar", "Nylon"},
    {"steel-string guitar", "Steel"},
    {"jazz guitar", "Jazz Guitar"},
    {"clean electric guitar", "Clean F"},
    {"acoustic bass", "Acoustic Bass"},
    {"fingered bass", "Finger Bass"},
    {"picked bass", "Picked Bass"},
}};

constexpr std::array<double, 8> shifts{1.0, -1.0, 3.0, -3.0, 10.0, -10.0, 30.0, -30.0};

constexpr Hertz lowest{30.0};
constexpr Hertz highest{1400.0};
constexpr Seconds lead{0.6};      // of silence
constexpr Seconds shortest{1.0};  // what is over sooner is no note to measure

const std::string fluid_sound_font{"/usr/share/sounds/sf2/FluidR3_GM.sf2"};

/// Band-limited interpolation, so that every frequency rises by `shift`. What libsamplerate gets wrong at
/// this quality lies some 140 dB down (from memory).
std::vector<float> resampled(const std::vector<float>& samples, Cents shift) {
    const double ratio = std::exp2(-shift.value() / 1200.0);  // of the lengths
    std::vector<float> out(static_cast<std::size_t>(static_cast<double>(samples.size()) * ratio) + 64);
    SRC_DATA data{};
    data.data_in = samples.data();
    data.input_frames = static_cast<long>(samples.size());
    data.data_out = out.data();
    data.output_frames = static_cast<long>(out.size());
    data.src_ratio = ratio;
    if (const int fault = src_simple(&data, SRC_SINC_BEST_QUALITY, 1); fault != 0)
        throw std::runtime_error{src_strerror(fault)};
    out.resize(static_cast<std::size_t>(data.output_frames_gen));
    return out;
}

/// How far the shifts of one instrument's notes came back wrong, in cents.
struct Recovered {
    std::vector<double> errors;
    std::vector<double> of_uncertainty;  ///< error over the stated uncertainty of the difference
    int lost = 0;
};

void shift_and_hear(const std::vector<float>& note, Hertz rate, PitchEstimator& estimator,
                    Recovered& recovered) {
    const auto original = heard(note, rate, lead, estimator, lowest);
    for (const double shift : shifts) {
        const double ratio = std::exp2(-shift / 1200.0);
        const auto shifted = heard(resampled(note, Cents{shift}), rate, ratio * lead, estimator, lowest);
        if (!original || !shifted) {
            ++recovered.lost;
            continue;
        }
        const double found = interval(original->reading.frequency, shifted->reading.frequency).value();
        recovered.errors.push_back(std::abs(found - shift));
        recovered.of_uncertainty.push_back(
            recovered.errors.back() /
            std::hypot(original->reading.uncertainty.value(), shifted->reading.uncertainty.value()));
    }
}

/// Behind a moment of silence.
std::vector<float> begun_late(const FontRecording& recording) {
    std::vector<float> note(static_cast<std::size_t>(lead.value() * recording.sample_rate.value()), 0.0F);
    note.insert(note.end(), recording.samples.begin(), recording.samples.end());
    return note;
}

constexpr Hertz computed_rate{48000.0};

/// A string that keeps to its law: what is wrong with this one's shifts is wrong with the shifting.
std::vector<float> computed_note() {
    std::vector<double> sound(
        static_cast<std::size_t>((lead + Seconds{3.6}).value() * computed_rate.value()));
    test::add_pluck(sound, computed_rate, lead, draw_plain_note(true, Seconds{3.0}, 40'000));
    test::add_white_noise(sound, 1e-5, 40'001);
    return test::floats(sound);
}

void add_row(Table& table, const char* name, const Recovered& of) {
    if (of.errors.empty()) return;
    table.rows.push_back({std::string{name}, static_cast<double>(of.errors.size()), quantile(of.errors, 0.5),
                          quantile(of.errors, 0.95), quantile(of.errors, 1.0),
                          quantile(of.of_uncertainty, 0.5)});
}

}  // namespace

void shifts_section(const Settings& settings, Report& report) {
    if (!std::filesystem::exists(fluid_sound_font)) {
        report.remarks.emplace_back(
            "shifts: the sound font of the package fluid-soundfont-gm is not installed");
        return;
    }
    PitchEstimator estimator{lowest, highest};
    std::array<Recovered, instruments.size()> recovered;
    int left = settings.trials_or(1000);  // more than there are
    for (const FontRecording& recording : font_recordings(fluid_sound_font)) {
        const auto instrument = std::find_if(
            instruments.begin(), instruments.end(),
            [&](const RecordedInstrument& one) { return recording.name.starts_with(one.begins); });
        const double length = static_cast<double>(recording.samples.size()) / recording.sample_rate.value();
        if (instrument == instruments.end() || length < shortest.value() || left-- <= 0) continue;
        shift_and_hear(begun_late(recording), recording.sample_rate, estimator,
                       recovered[static_cast<std::size_t>(instrument - instruments.begin())]);
    }

    Table table{"shifts",
                "The recordings in a sound font (FluidR3), each up to where it would be repeated, shifted by "
                "1 to 30 cents "
                "up and down: how far off the shift came back",
                {"instrument", "shifts", "median cents", "95 % cents", "worst cents", "median of error/u"},
                {}};
    Recovered control;
    shift_and_hear(computed_note(), computed_rate, estimator, control);
    add_row(table, "for control: a computed string", control);
    std::vector<double> all;
    for (std::size_t i = 0; i < instruments.size(); ++i) {
        const Recovered& of = recovered[i];
        all.insert(all.end(), of.errors.begin(), of.errors.end());
        add_row(table, instruments[i].name, of);
        if (of.lost > 0) {
            report.remarks.push_back(
                fmt::format("shifts: {}: {} shifts not measured", instruments[i].name, of.lost));
        }
    }
    report.tables.push_back(std::move(table));
    report.figures.push_back(
        {"known shift of a recorded note, 1 to 30 cents: median error", quantile(all, 0.5), "cent", 0.01});
    report.figures.push_back(
        {"known shift of a recorded note: 95 % below", quantile(all, 0.95), "cent", 0.15});
}

}  // namespace midspan::benchmark
