// command_analyze.cpp: every recording, block by block, into one measurement.
//
// Room: program. Edge: the disk.
#include "program/command_analyze.hpp"

#include "midspan/view/analysis_json.hpp"
#include "program/clock.hpp"
#include "program/fed_recording.hpp"
#include "program/measured_text.hpp"

namespace midspan::program {
Result<Outcome> analyze(const AnalyzeOptions& options, const Screen& screen, Progress& progress) {
    Result<OnBench> bench = on_bench(options.instrument, options.record);
    if (!bench) return bench.error();
    if (auto fault = fault_of_strings(options.strings, bench.value().instrument)) return *std::move(fault);

    MeasurementOptions how = options.measurement;
    how.screws = bench.value().screws;
    Measurement measurement{bench.value().instrument, how};
    for (std::size_t i = 0; i < options.recordings.size(); ++i) {
        Result<Recording> recording = Recording::open(options.recordings[i]);
        if (!recording) return recording.error();
        if (auto fault = feed(measurement, recording.value(), string_of(options.strings, i),
                              static_cast<int>(i), options.measurement.channel, progress)) {
            return *std::move(fault);
        }
    }
    const Analysis analysis = measurement.analysis();
    const Look look{options.unit, screen.utf8, screen.emphasis};
    Outcome outcome{options.json ? analysis_json(analysis) : measured_text(analysis, look),
                    nothing_measured(analysis)};
    log_work(bench.value(), {.readings = {{now(), ReadingSource::analyze, analysis}}}, options.json, outcome);
    return outcome;
}

}  // namespace midspan::program
