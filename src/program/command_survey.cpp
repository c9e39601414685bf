// command_survey.cpp: recordings or the microphone, block by block, into one survey.
//
// Room: program. Edge: the disk, sound devices.
#include "program/command_survey.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cmath>
#include <cstring>
#include <fstream>
#include <iterator>

#include "midspan/sound/microphone.hpp"
#include "midspan/view/bench_notes.hpp"
#include "midspan/view/bench_table.hpp"
#include "midspan/view/neck_drawing.hpp"
#include "midspan/view/survey_json.hpp"
#include "program/end_signals.hpp"
#include "program/fed_recording.hpp"
#include "program/recorded_neck.hpp"
#include "program/text_file.hpp"

namespace midspan::program {
namespace {

constexpr std::size_t longest_target_file = 10'000;
constexpr int least_frets = 12;  // a record may hold stranger necks than a survey is made for

Result<std::vector<FretTarget>> read_targets(const std::string& path) {
    errno = 0;
    std::ifstream file{path, std::ios::binary};
    if (!file) {
        return Error{Fault::input, path, errno == ENOENT ? "there is no such file" : std::strerror(errno),
                     "give a file with a line for each fret: fret and cents"};
    }
    std::string text(longest_target_file + 1, '\0');
    file.read(text.data(), static_cast<std::streamsize>(text.size()));
    text.resize(static_cast<std::size_t>(file.gcount()));
    if (text.size() > longest_target_file) {
        return Error{Fault::input, path, "too long for a file of targets",
                     "give a file with a line for each fret: fret and cents"};
    }
    return parse_targets(text, path);
}

/// What was made of the last pluck: for whoever plucks, and looks up now and then.
std::string last_pluck_in_words(const NeckAnalysis& analysis) {
    const SurveyedPluck& last = analysis.plucks.back();
    const std::string count = fmt::format("{} heard; Ctrl-C ends it. ", analysis.plucks.size());
    if (!last.reading) return count + "The last did not ring";
    if (!last.string || !last.fret) {
        return count + fmt::format("The last, {:.1f} Hz, is not known yet", last.reading->frequency.value());
    }
    std::string text = count + fmt::format("String {}, ", *last.string);
    text += last.harmonic                         ? "harmonic"
            : *last.fret == analysis.options.capo ? "open"
                                                  : fmt::format("fret {}", *last.fret);
    if (last.error) text += fmt::format(": {:+.1f} cents", last.error->value());
    return text;
}

/// Hears until Ctrl-C; gives back the fault that was the end, if one was.
std::optional<Error> hear(Survey& survey, const SurveyCommandOptions& options, Progress& progress) {
    auto opened = Microphone::open({options.device, options.survey.channel});
    if (!opened) return opened.error();
    Microphone& microphone = opened.value();
    survey.begin_recording(device_title(microphone.device()), microphone.format(),
                           string_of(options.strings, 0));
    const EndSignals signals;
    std::optional<Error> fault;
    std::size_t told = 0;
    progress.say("Listening: pluck a string open, then its frets; Ctrl-C ends with the result");
    for (;;) {
        if (signals.end_wanted()) microphone.stop();
        const Result<AudioBlock> block = microphone.next();
        if (!block) fault = block.error();
        if (fault || block.value().frames() == 0) break;
        survey.feed(block.value());
        if (survey.plucks() == told) continue;
        told = survey.plucks();
        progress.say(last_pluck_in_words(survey.analysis()));
    }
    survey.end_recording();
    for (Warning warning : microphone.warnings()) {
        warning.recording = 0;
        survey.add_warning(std::move(warning));
    }
    return fault;
}

/// Strings and heights as the record has them, and above that as they were said.
Result<StatedNeck> stated(OnBench& bench, const SetupWords& words) {
    auto recorded = recorded_neck(bench);
    if (!recorded) return recorded.error();
    StatedNeck neck = std::move(recorded).value();
    if (!words.gauges.empty()) {
        const auto gauges = gauges_by_number(words, bench.instrument, "--gauges");
        if (!gauges) return gauges.error();
        for (std::size_t i = 0; i < neck.strings.size(); ++i)
            neck.strings[i].gauge = gauges.value()[i];
    }
    for (StatedString& string : neck.strings) {
        if (words.action) string.action = words.action;
        if (words.nut_height) string.nut_height = words.nut_height;
    }
    if (words.relief) neck.relief = words.relief;
    const bool heights_said = words.action || words.nut_height || words.relief;
    if (heights_said && !strings_stated(neck)) {
        return Error{Fault::usage, "survey", "heights, but no gauges: what they do depends on the strings",
                     "name the strings as well: --gauges 10,13,17,26w,36w,46w"};
    }
    return neck;
}

SaddleSharing sharing_of(BridgeKind bridge) {
    switch (bridge) {
        case BridgeKind::individual_saddles:
            return SaddleSharing::individual;
        case BridgeKind::shared_saddles:
            return SaddleSharing::shared_pairs;
        case BridgeKind::one_piece:
            break;
    }
    return SaddleSharing::one_piece;
}

/// What was not said, as the record has it.
Result<SurveyOptions> options_of(OnBench& bench, const SurveyCommandOptions& options) {
    SurveyOptions how = options.survey;
    auto neck = stated(bench, options.setup);
    if (!neck) return neck.error();
    how.stated = std::move(neck).value();
    if (bench.entry && !options.frets_said && bench.entry->frets.value_or(0) >= least_frets)
        how.neck.frets = *bench.entry->frets;
    if (how.capo >= how.neck.frets) {
        return Error{Fault::usage, fmt::format("--capo {}", how.capo),
                     fmt::format("the record says {} frets", how.neck.frets), "give a fret of the neck"};
    }
    if (bench.entry && !options.bridge_said) how.neck.bridge = sharing_of(bench.entry->bridge);
    if (options.target) {
        auto targets = read_targets(*options.target);
        if (!targets) return targets.error();
        how.neck.targets = std::move(targets).value();
    }
    return how;
}

std::string readable(const NeckAnalysis& analysis, const Look& look) {
    // Recordings and warnings are told as those of any other measurement.
    Analysis told;
    told.recordings = analysis.recordings;
    told.warnings = analysis.warnings;
    std::string text;
    for (const std::string& part :
         {bench_table(told, look), neck_drawing(analysis, look), neck_findings(analysis, look),
          neck_places(analysis, look), bench_warnings(told, look)}) {
        if (part.empty()) continue;
        if (!text.empty()) text += '\n';
        text += part;
    }
    return text;
}

std::optional<Error> nothing_surveyed(const NeckAnalysis& analysis) {
    if (!analysis.neck.notes.empty()) return std::nullopt;
    std::string subject = fmt::format("{} recordings", analysis.recordings.size());
    if (analysis.recordings.size() == 1) subject = analysis.recordings.front().path;
    if (subject == "-") subject = "standard input";
    return Error{Fault::input, subject, "no fretted note that could be used",
                 "pluck each string open, then at its frets, one note after the other, and let them ring"};
}

}  // namespace

Result<std::vector<FretTarget>> parse_targets(std::string_view text, const std::string& file) {
    std::vector<FretTarget> targets;
    int line_number = 0;
    while (!text.empty()) {
        ++line_number;
        const std::size_t end = std::min(text.find('\n'), text.size());
        std::string line{text.substr(0, std::min(text.substr(0, end).find('#'), end))};
        text.remove_prefix(std::min(end + 1, text.size()));
        std::replace_if(
            line.begin(), line.end(), [](char c) { return c == '\t' || c == '\r' || c == ','; }, ' ');
        std::vector<std::string> words;
        for (std::size_t at = line.find_first_not_of(' '); at != std::string::npos;
             at = line.find_first_not_of(' ', at)) {
            const std::size_t word_end = std::min(line.find(' ', at), line.size());
            words.push_back(line.substr(at, word_end - at));
            at = word_end;
        }
        if (words.empty()) continue;
        int fret = 0;
        double cents = 0.0;
        const auto whole = [](const std::string& word, auto& value) {
            const auto [rest, error] = std::from_chars(word.data(), word.data() + word.size(), value);
            return error == std::errc{} && rest == word.data() + word.size();
        };
        constexpr double most = 100.0;
        const bool sense = words.size() == 2 && whole(words[0], fret) && whole(words[1], cents) &&
                           fret >= 1 && fret <= 36 && std::isfinite(cents) && std::abs(cents) <= most;
        const bool twice = std::any_of(targets.begin(), targets.end(),
                                       [fret](const FretTarget& target) { return target.fret == fret; });
        if (!sense || twice) {
            return Error{Fault::input, file,
                         fmt::format("line {} {}", line_number,
                                     sense ? "names a fret again" : "is no fret with its cents"),
                         "write a line for each fret: its number, 1 to 36, and its cents, such as 7 -1.5"};
        }
        targets.push_back({fret, Cents{cents}});
    }
    return targets;
}

Result<Outcome> survey(const SurveyCommandOptions& options, const Screen& screen, Progress& progress) {
    Result<OnBench> bench = on_bench(options.instrument, {options.record.file, true});
    if (!bench) return bench.error();
    if (auto fault = fault_of_strings(options.strings, bench.value().instrument)) return *std::move(fault);
    const auto how = options_of(bench.value(), options);
    if (!how) return how.error();
    Survey survey{bench.value().instrument, how.value()};
    std::optional<Error> fault;
    if (options.listen) fault = hear(survey, options, progress);
    for (std::size_t i = 0; i < options.recordings.size(); ++i) {
        Result<Recording> recording = Recording::open(options.recordings[i]);
        if (!recording) return recording.error();
        if (auto unread = feed(survey, recording.value(), string_of(options.strings, i), static_cast<int>(i),
                               how.value().channel, progress)) {
            return *std::move(unread);
        }
    }
    const NeckAnalysis analysis = survey.analysis();
    if (fault && analysis.recordings.empty()) return *std::move(fault);
    if (options.picture) {
        if (auto unwritten = write_text(*options.picture, neck_picture(analysis)))
            return *std::move(unwritten);
    }
    const Look look{options.unit, screen.utf8, screen.emphasis};
    Outcome outcome{options.json ? survey_json(analysis) : readable(analysis, look),
                    fault ? fault : nothing_surveyed(analysis)};
    if (options.record.log) {
        log_survey(bench.value(), options.listen ? ReadingSource::listen : ReadingSource::analyze, analysis,
                   options.json, outcome);
    }
    return outcome;
}

}  // namespace midspan::program
