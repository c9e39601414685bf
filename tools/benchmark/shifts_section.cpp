// shifts_section.cpp: recorded notes of real instruments, shifted by a known interval.
//
// Room: tools/benchmark. Edge: the disk and another program. May include: ground, notes, pitch,
// tests/support.
#include <fmt/format.h>
#include <samplerate.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <filesystem>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "benchmark/listening.hpp"
#include "benchmark/section.hpp"
#include "benchmark/statistics.hpp"
#include "benchmark/trial.hpp"
#include "midspan/sound/recording.hpp"
#include "support/disturbances.hpp"
#include "support/rendered_notes.hpp"
#include "support/temp_folder.hpp"

namespace midspan::benchmark {
namespace {

constexpr std::size_t keys_each = 5;

struct RecordedInstrument {
    const char* name;
    int number;                       ///< General MIDI, counted from 0
    std::array<int, keys_each> keys;  ///< MIDI
};

constexpr std::array<RecordedInstrument, 7> instruments{{
    {"nylon-string guitar", 24, {52, 57, 62, 67, 71}},
    {"steel-string guitar", 25, {52, 57, 62, 67, 71}},
    {"jazz guitar", 26, {52, 57, 62, 67, 71}},
    {"clean electric guitar", 27, {52, 57, 62, 67, 71}},
    {"acoustic bass", 32, {40, 43, 45, 50, 55}},
    {"fingered bass", 33, {40, 43, 45, 50, 55}},
    {"picked bass", 34, {40, 43, 45, 50, 55}},
}};

constexpr std::array<double, 8> shifts{1.0, -1.0, 3.0, -3.0, 10.0, -10.0, 30.0, -30.0};

constexpr Hertz rate{48000.0};
constexpr Hertz lowest{60.0};
constexpr Hertz highest{784.0};
constexpr Seconds lead{0.6};
constexpr test::KeyTiming timing{Seconds{3.0}, lead};

const std::filesystem::path fluid_sound_font{"/usr/share/sounds/sf2/FluidR3_GM.sf2"};

/// The left channel.
std::vector<float> samples_of(const std::string& path) {
    auto recording = Recording::open(path);
    if (!recording) throw std::runtime_error{path + " cannot be read"};
    std::vector<float> samples;
    for (;;) {
        const auto block = recording.value().next();
        if (!block.ok()) throw std::runtime_error{path + " cannot be read"};
        if (block.value().frames() == 0) return samples;
        const auto channels = static_cast<std::size_t>(block.value().channels);
        for (std::size_t i = 0; i < block.value().samples.size(); i += channels)
            samples.push_back(block.value().samples[i]);
    }
}

/// Band-limited interpolation, so that every frequency rises by `shift`. What libsamplerate gets wrong at
/// this quality lies 121 dB down, as its documentation says.
std::vector<float> resampled(const std::vector<float>& samples, Cents shift) {
    const double ratio = std::exp2(-shift.value() / 1200.0);  // of the lengths
    std::vector<float> out(static_cast<std::size_t>(static_cast<double>(samples.size()) * ratio) + 64);
    SRC_DATA data{};
    data.data_in = samples.data();
    data.input_frames = static_cast<long>(samples.size());
    data.data_out = out.data();
    data.output_frames = static_cast<long>(out.size());
    data.src_ratio = ratio;
    if (const int fault = src_simple(&data, SRC_SINC_MEDIUM_QUALITY, 1); fault != 0)
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

void shift_and_hear(const std::vector<float>& note, PitchEstimator& estimator, Recovered& recovered) {
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

std::vector<float> recorded_note(const RecordedInstrument& instrument, int key) {
    const test::TempFolder folder;
    const test::PlayedKey played{key, 0};
    return samples_of(
        test::rendered_notes(folder.path(), fluid_sound_font, instrument.number, {&played, 1}, timing));
}

/// A string that keeps to its law: what is wrong with this one's shifts is wrong with the shifting.
std::vector<float> computed_note() {
    std::vector<double> sound(static_cast<std::size_t>((lead + Seconds{3.6}).value() * rate.value()));
    test::add_pluck(sound, rate, lead, draw_plain_note(true, Seconds{3.0}, 40'000));
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
    constexpr auto notes = static_cast<int>(instruments.size() * keys_each);
    for (int i = 0; i < std::min(settings.trials_or(notes), notes); ++i) {
        const auto note = static_cast<std::size_t>(i);
        const std::size_t which = note % instruments.size();
        const RecordedInstrument& instrument = instruments[which];
        shift_and_hear(recorded_note(instrument, instrument.keys[note / instruments.size()]), estimator,
                       recovered[which]);
    }

    Table table{
        "shifts",
        "Recorded notes (FluidR3), shifted by 1 to 30 cents up and down: how far off the shift came back",
        {"instrument", "shifts", "median cents", "95 % cents", "worst cents", "median of error/u"},
        {}};
    Recovered control;
    shift_and_hear(computed_note(), estimator, control);
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
