// command_analyze.cpp: every recording, block by block, into one measurement.
//
// Room: program. Edge: the disk.
#include "program/command_analyze.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "midspan/sound/recording.hpp"
#include "midspan/view/analysis_json.hpp"
#include "midspan/view/bench_notes.hpp"
#include "midspan/view/bench_table.hpp"
#include "midspan/view/bridge_drawing.hpp"

namespace midspan::program {
namespace {

/// More than anybody writes about an instrument; a sound file given by mistake ends here.
constexpr std::size_t longest_instrument_file = 1'000'000;

Result<Instrument> read_instrument(const std::string& path) {
    const auto refuse = [&path](std::string problem) {
        return Error{Fault::input, path, std::move(problem),
                     "give the path of a TOML file that describes the instrument"};
    };
    std::error_code ignored;
    if (std::filesystem::is_directory(path, ignored)) return refuse("is a folder");
    errno = 0;
    std::ifstream file{path, std::ios::binary};
    if (!file) return refuse(errno == ENOENT ? "there is no such file" : std::strerror(errno));
    std::string text;
    char piece[4096];
    while (file.read(piece, sizeof piece) || file.gcount() > 0) {
        text.append(piece, static_cast<std::size_t>(file.gcount()));
        if (text.size() > longest_instrument_file) return refuse("too long for an instrument file");
    }
    if (file.bad()) return refuse("cannot be read");
    return parse_instrument(text, path);
}

Result<Instrument> instrument_of(const AnalyzeOptions& options) {
    if (const auto* file = std::get_if<InstrumentFile>(&options.instrument))
        return read_instrument(file->path);
    return std::get<Instrument>(options.instrument);
}

std::optional<int> string_of(const AnalyzeOptions& options, std::size_t recording) {
    if (options.strings.empty()) return std::nullopt;
    return options.strings[options.strings.size() == 1 ? 0 : recording];
}

std::optional<Error> fault_of_strings(const AnalyzeOptions& options, const Instrument& instrument) {
    for (const int string : options.strings) {
        if (string >= 1 && static_cast<std::size_t>(string) <= instrument.strings.size()) continue;
        return Error{
            Fault::usage, fmt::format("--string {}", string), "no such string",
            fmt::format("this instrument has strings 1 to {}, 1 the highest", instrument.strings.size())};
    }
    return std::nullopt;
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

/// Whether anything at all could be measured.
std::optional<Error> fault_of(const Analysis& analysis) {
    const bool any = std::any_of(analysis.plucks.begin(), analysis.plucks.end(),
                                 [](const AnalysedPluck& pluck) { return pluck.used; });
    if (any) return std::nullopt;
    std::string subject = fmt::format("{} recordings", analysis.recordings.size());
    if (analysis.recordings.size() == 1) subject = analysis.recordings.front().path;
    if (subject == "-") subject = "standard input";
    return Error{Fault::input, subject, "no usable note",
                 "pluck each string by itself, let it ring, and check tuning and level"};
}

std::string readable(const Analysis& analysis, const Look& look) {
    std::string text = bench_table(analysis, look);
    for (const std::string& part :
         {bridge_drawing(analysis, look), bench_warnings(analysis, look), bench_cautions(analysis, look)}) {
        if (!part.empty()) text += '\n' + part;
    }
    return text;
}

}  // namespace

Result<Outcome> analyze(const AnalyzeOptions& options, const Screen& screen, Progress& progress) {
    Result<Instrument> instrument = instrument_of(options);
    if (!instrument) return instrument.error();
    if (auto fault = fault_of_strings(options, instrument.value())) return *std::move(fault);

    Measurement measurement{std::move(instrument).value(), options.measurement};
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
    return Outcome{options.json ? analysis_json(analysis) : readable(analysis, look), fault_of(analysis)};
}

}  // namespace midspan::program
