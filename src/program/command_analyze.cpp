// command_analyze.cpp: every recording, block by block, into one measurement.
//
// Room: program. Edge: the disk.
#include "program/command_analyze.hpp"

#include <fmt/format.h>

#include "midspan/sound/recording.hpp"
#include "midspan/view/analysis_json.hpp"
#include "program/measured_text.hpp"

namespace midspan::program {
namespace {

std::optional<int> string_of(const AnalyzeOptions& options, std::size_t recording) {
    if (options.strings.empty()) return std::nullopt;
    return options.strings[options.strings.size() == 1 ? 0 : recording];
}

std::optional<Error> feed(Measurement& measurement, Recording& recording, std::optional<int> string,
                          int index, const MeasurementOptions& options, Progress& progress) {
    const AudioFormat format = recording.format();
    if (options.channel && *options.channel > format.channels) {
        return Error{Fault::usage, recording.path(), fmt::format("has no channel {}", *options.channel),
                     format.channels == 1 ? "it has one; leave --channel out"
                                          : fmt::format("give --channel 1 to {}", format.channels)};
    }
    std::optional<Seconds> total;
    if (const auto frames = recording.total_frames()) {
        total = Seconds{static_cast<double>(*frames) / format.sample_rate.value()};
    }

    measurement.begin_recording(recording.path(), format, string);
    for (;;) {
        const Result<AudioBlock> block = recording.next();
        if (!block) return block.error();
        if (block.value().frames() == 0) break;
        measurement.feed(block.value());
        progress.show(recording.path(), recording.duration_read(), total);
    }
    measurement.end_recording();
    for (Warning warning : recording.warnings()) {
        warning.recording = index;
        measurement.add_warning(std::move(warning));
    }
    return std::nullopt;
}

}  // namespace

Result<Outcome> analyze(const AnalyzeOptions& options, const Screen& screen, Progress& progress) {
    Result<OnBench> bench = on_bench(options.instrument, options.record);
    if (!bench) return bench.error();
    if (auto fault = fault_of_strings(options.strings, bench.value().instrument)) return *std::move(fault);

    Measurement measurement{bench.value().instrument, options.measurement};
    for (std::size_t i = 0; i < options.recordings.size(); ++i) {
        Result<Recording> recording = Recording::open(options.recordings[i]);
        if (!recording) return recording.error();
        if (auto fault = feed(measurement, recording.value(), string_of(options, i), static_cast<int>(i),
                              options.measurement, progress)) {
            return *std::move(fault);
        }
    }
    const Analysis analysis = measurement.analysis();
    const Look look{options.unit, screen.utf8, screen.emphasis};
    Outcome outcome{options.json ? analysis_json(analysis) : measured_text(analysis, look),
                    nothing_measured(analysis)};
    log_analysis(bench.value(), ReadingSource::analyze, analysis, options.json, outcome);
    return outcome;
}

}  // namespace midspan::program
