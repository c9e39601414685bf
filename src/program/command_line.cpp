// command_line.cpp: the options, each described once, and how their words become values.
//
// Room: program. Pure.
#include "program/command_line.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>
#include <map>
#include <string_view>
#include <vector>

#include "midspan/instrument/length.hpp"
#include "program/documents.hpp"

namespace midspan::program {
namespace {

// What it lies on: the same for every command that measures.
constexpr Option scale_length_option{
    "--scale-length",
    "L",
    "nut to nominal saddle line: 648, 25.5in, \"24 3/4 in\"",
    "Scale length, from the nut to the nominal saddle line. A plain number is millimetres; 25.5in and "
    "\"24 3/4 in\" are inches. For a multi-scale instrument give one for each string, low to high, "
    "with commas or by repeating the option. To measure it, double the distance from the nut to the "
    "12th fret.",
    "",
    true};
constexpr Option instrument_option{
    "--instrument", "FILE", "a TOML file with scale, tuning, bridge and screws",
    "A TOML file that describes the instrument, in place of --scale-length, --tuning, --a4, --thread "
    "and --clockwise. The README lists its keys.",
    ""};
constexpr Option tuning_option{
    "--tuning", "NOTES", "low to high, as a player says it (E2,A2,D3,G3,B3,E4)",
    "The open notes, low to high as a player says them, with commas: 1 to 12 of them. The default is "
    "E2,A2,D3,G3,B3,E4.",
    ""};
constexpr Option a4_option{"--a4", "HZ", "frequency of A4 (440)",
                           "The frequency of A4, 380 to 500 Hz. The default is 440.", ""};
constexpr Option plucks_option{
    "--plucks", "ORDER", "alternate: harmonic, fretted, ... (default); or grouped",
    "The order in which each string was plucked. alternate: harmonic, fretted, harmonic, fretted, and "
    "so on; drift and the warmth of the hand cancel. grouped: all harmonics of a string, then as many "
    "fretted notes. The default is alternate.",
    "alternate grouped"};
constexpr Option string_option{
    "--string", "N", "the string a recording holds: one for all, or N,N,...",
    "The string each recording holds, 1 the highest: one number for all recordings, or one for each "
    "with commas. Needed only where the pitch alone cannot tell two strings apart.",
    ""};
constexpr Option channel_option{
    "--channel", "N", "listen to this channel (default: by its signal)",
    "The channel to listen to, 1 the first. By default the one that carries the strings is chosen, "
    "and the result says which.",
    ""};
constexpr Option thread_option{
    "--thread", "PITCH", "of the saddle screws, for turns: M3, 6-32, 0.5",
    "The thread of the saddle screws, so that moves are given in turns: M2, M2.5, M3, M4, 4-40, 5-40, "
    "6-32, 8-32, 10-32, or the pitch in millimetres.",
    ""};
constexpr Option clockwise_option{
    "--clockwise", "WAY", "a clockwise turn moves a saddle toward-tail or -nut",
    "Which way a clockwise turn of the screw moves the saddle on this bridge, toward-tail or "
    "toward-nut, so that turns are given as clockwise or counter-clockwise.",
    "toward-tail toward-nut"};
constexpr Option tolerance_option{
    "--tolerance", "CENTS", "good enough within this (1.5)",
    "How many cents of error at the 12th fret are good enough, 0.01 to 50. The default is 1.5.", ""};
constexpr Option units_option{
    "--units", "UNIT", "mm (default) or inch",
    "Lengths in the readable result: mm, or inch with the nearest 64th. JSON is always in millimetres.",
    "mm inch"};
constexpr Option json_option{
    "--json", "", "one JSON object on stdout, schema midspan/analysis/1",
    "Write the result as one JSON object, schema midspan/analysis/1, and nothing else. The README "
    "describes it.",
    ""};
constexpr Option no_record_option{"--no-record", "", "leave the setup record alone (none is kept yet)",
                                  "Leave the setup record alone. None is kept yet, so this changes nothing.",
                                  ""};

constexpr std::array analyze_options{scale_length_option, instrument_option, tuning_option,  a4_option,
                                     plucks_option,       string_option,     channel_option, thread_option,
                                     clockwise_option,    tolerance_option,  units_option,   json_option,
                                     no_record_option};

constexpr Option device_option{
    "--device", "DEVICE", "number or part of the name, see midspan devices",
    "The input to listen to: its number, or part of its name, as midspan devices lists them. The default is "
    "the one marked there.",
    ""};
constexpr Option keep_option{
    "--keep", "FILE", "also write what was heard, .wav or .flac",
    "Also write what was heard to this file, a new one: 32-bit float in a .wav, 24 bits in a .flac. "
    "midspan analyze finds the same in it.",
    ""};
constexpr Option say_option{"--say", "", "speak results and next steps (needs espeak-ng)",
                            "Speak results and next steps, with espeak-ng, which has to be installed.", ""};
constexpr Option plucked_string_option{
    "--string", "N", "only this string is plucked",
    "The only string that is plucked, 1 the highest. Needed only where the pitch alone cannot tell two "
    "strings apart.",
    ""};
constexpr Option plucks_in_turn_option{
    "--plucks", "ORDER", "alternate: harmonic, fretted, ...",
    "The order in which each string is plucked: alternate, the only one there is when midspan listens.",
    "alternate"};
constexpr Option events_option{"--json", "", "one JSON object a line and event on stdout",
                               "Write one JSON object a line for every event, and as the last line the "
                               "object midspan analyze writes. The "
                               "README describes them.",
                               ""};
constexpr Option devices_json_option{
    "--json", "", "one JSON object on stdout, schema midspan/devices/1",
    "Write the list as one JSON object, schema midspan/devices/1, and nothing else.", ""};

constexpr std::array devices_options{devices_json_option};
constexpr std::array listen_options{
    scale_length_option, instrument_option, device_option,         keep_option,           say_option,
    tuning_option,       a4_option,         plucks_in_turn_option, plucked_string_option, channel_option,
    thread_option,       clockwise_option,  tolerance_option,      units_option,          events_option,
    no_record_option};

constexpr Option gauges_option{
    "--gauges", "LIST", "strings now on: 10,13,17,26w/13,36w,46w; w is wound",
    "The gauges of the steel strings now on, with commas: thousandths of an inch, or millimetres as 0.25mm; "
    "a "
    "wound string has a w behind it and, where its core is known, a slash and the core. Thin to thick, or in "
    "the order of the tuning.",
    ""};
constexpr Option action_option{
    "--action", "L", "open string over fret 12 (1.8)",
    "Height of the open string over the 12th fret, up to 10 mm. The default is 1.8.", ""};
constexpr Option nut_height_option{
    "--nut-height", "L", "strings over the line of the frets at the nut (0.5)",
    "Height of the strings at the nut over the line of the fret tops, up to 3 mm. The default is 0.5.", ""};
constexpr Option relief_option{"--relief", "L", "mid-way between frets 1 and 17 (0.2)",
                               "Relief of the neck, measured mid-way between frets 1 and 17, up to 2 mm. The "
                               "default is 0.2.",
                               ""};
constexpr Option to_gauges_option{"--to-gauges", "LIST", "other strings",
                                  "The gauges that are to come, as --gauges.", ""};
constexpr Option to_tuning_option{"--to-tuning", "NOTES", "another tuning",
                                  "The tuning that is to come, as --tuning.", ""};
constexpr Option to_action_option{"--to-action", "L", "another action",
                                  "The action that is to come, as --action.", ""};
constexpr Option to_nut_height_option{"--to-nut-height", "L", "another height at the nut",
                                      "The height at the nut that is to come, as --nut-height.", ""};
constexpr Option to_relief_option{"--to-relief", "L", "another relief",
                                  "The relief that is to come, as --relief.", ""};
constexpr Option prediction_json_option{
    "--json", "", "one JSON object on stdout, schema midspan/prediction/1",
    "Write the result as one JSON object, schema midspan/prediction/1, and nothing else. The README "
    "describes it.",
    ""};
constexpr std::array predict_options{
    gauges_option,    scale_length_option,  instrument_option, tuning_option,    a4_option,
    action_option,    nut_height_option,    relief_option,     to_gauges_option, to_tuning_option,
    to_action_option, to_nut_height_option, to_relief_option,  units_option,     prediction_json_option};

constexpr std::array described{
    CommandDescription{"analyze", "analyze [OPTIONS] RECORDING...",
                       "How far each saddle must move, from 12th-fret harmonics and fretted notes.",
                       analyze_options, "RECORDING is any sound file, or - for standard input.",
                       "  midspan analyze test_audio/six-strings.wav --scale-length 648\n"
                       "  midspan analyze test_audio/six-strings.wav --scale-length 25.5in --thread M3\n",
                       "RECORDING"},
    CommandDescription{"listen", "listen [OPTIONS]",
                       "The same live, from a microphone or cable; Ctrl-C ends it with the result.",
                       listen_options, "",
                       "  midspan listen --scale-length 25.5in --thread 6-32 --keep take.wav\n"},
    CommandDescription{"predict", "predict [OPTIONS]",
                       "What other strings, another tuning or action will do, before it is done.",
                       predict_options, "",
                       "  midspan predict --scale-length 648 --gauges 9,11,16,24w,32w,42w "
                       "--to-action 2\n"},
    CommandDescription{"devices", "devices [--json]", "The inputs there are to listen to.", devices_options,
                       "", "  midspan devices\n"},
};

/// What stood behind each option, in words; what stood behind none of them, under "".
using Words = std::map<std::string_view, std::vector<std::string>>;

Error usage(std::string subject, std::string problem, std::string remedy) {
    return {Fault::usage, std::move(subject), std::move(problem), std::move(remedy)};
}

/// One line of what CLI11 has to say.
std::string first_line(std::string_view text) { return std::string{text.substr(0, text.find('\n'))}; }

std::string see_help(const CommandDescription& command) {
    return fmt::format("see midspan {} --help", command.name);
}

/// Sorts the words to their options. CLI11 knows how options may be written; what they mean is not its
/// concern, so every value is a word to it.
Result<Words> sorted(const CommandDescription& command, std::span<const std::string> arguments) {
    CLI::App app;
    app.set_help_flag();
    app.allow_extras();
    Words words;
    for (const Option& option : command.options) {
        auto& values = words[option.name];
        const std::string name{option.name};
        if (option.argument.empty()) {
            app.add_flag_callback(name, [&values] { values.emplace_back(); });
        } else {
            app.add_option(name, values)->allow_extra_args(false);
        }
    }
    app.add_flag_callback("-h,--help", [&help = words["--help"]] { help.emplace_back(); });
    auto& operands = words[""];
    if (!command.operand.empty()) app.add_option(std::string{command.operand}, operands);

    std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());
    try {
        app.parse(reversed);
    } catch (const CLI::ArgumentMismatch& mismatch) {
        const std::string said = first_line(mismatch.what());
        return usage(said.substr(0, said.find(':')), "needs one value", see_help(command));
    } catch (const CLI::ParseError& error) {
        return usage("command line", first_line(error.what()), see_help(command));
    }
    const std::vector<std::string> left = app.remaining();
    const auto unknown = std::find_if(left.begin(), left.end(), [](const auto& w) { return w != "--"; });
    if (words["--help"].empty() && unknown != left.end()) {
        const bool option = unknown->starts_with('-') || !command.operand.empty();
        return usage(*unknown, option ? "no such option" : "one word too many", see_help(command));
    }
    for (const Option& option : command.options) {
        if (!option.repeatable && !option.argument.empty() && words[option.name].size() > 1) {
            return usage(std::string{option.name}, "given more than once", "give it once");
        }
    }
    return words;
}

/// The word behind an option that was given at most once, or that this command does not have.
std::optional<std::string_view> word(const Words& words, std::string_view option) {
    const auto found = words.find(option);
    if (found == words.end() || found->second.empty()) return std::nullopt;
    return found->second.front();
}

std::vector<std::string_view> split(std::string_view list) {
    std::vector<std::string_view> parts;
    for (;;) {
        const std::size_t comma = list.find(',');
        parts.push_back(list.substr(0, comma));
        if (comma == std::string_view::npos) return parts;
        list.remove_prefix(comma + 1);
    }
}

template <class Number>
std::optional<Number> number(std::string_view text) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

/// A number between two bounds.
Result<double> number_of(std::string_view option, std::string_view text, double least, double most,
                         std::string remedy) {
    const auto value = number<double>(text);
    const std::string subject = fmt::format("{} {}", option, text);
    if (!value || !std::isfinite(*value)) return usage(subject, "no number", std::move(remedy));
    if (*value < least || *value > most) {
        return usage(subject, fmt::format("outside {:g} to {:g}", least, most), std::move(remedy));
    }
    return *value;
}

/// Which of the option's choices a word is.
Result<std::size_t> choice_of(std::string_view option, std::string_view text,
                              std::initializer_list<std::string_view> choices) {
    const auto found = std::find(choices.begin(), choices.end(), text);
    if (found != choices.end()) return static_cast<std::size_t>(found - choices.begin());
    return usage(fmt::format("{} {}", option, text), "no such choice",
                 fmt::format("write {}", fmt::join(choices, " or ")));
}

Result<Saddle> saddle_of(const Words& words) {
    Saddle saddle;
    if (const auto text = word(words, "--thread")) {
        const auto pitch = parse_thread_pitch(*text);
        if (!pitch) return pitch.error();
        saddle.thread_pitch = pitch.value();
    }
    if (const auto text = word(words, "--clockwise")) {
        const auto choice = choice_of("--clockwise", *text, {"toward-tail", "toward-nut"});
        if (!choice) return choice.error();
        saddle.clockwise_is_toward_tail = choice.value() == 0;
    }
    return saddle;
}

Result<Instrument> described_instrument(const Words& words) {
    std::vector<Millimetres> scale_lengths;
    for (const std::string& list : words.at("--scale-length")) {
        for (const std::string_view text : split(list)) {
            const auto length = parse_scale_length(text);
            if (!length) return length.error();
            scale_lengths.push_back(length.value());
        }
    }
    Hertz a4{440.0};
    if (const auto text = word(words, "--a4")) {
        const auto value = number_of("--a4", *text, lowest_a4.value(), highest_a4.value(),
                                     "give hertz: 440 is standard, 415 baroque");
        if (!value) return value.error();
        a4 = Hertz{value.value()};
    }
    const auto saddle = saddle_of(words);
    if (!saddle) return saddle.error();
    return make_instrument(word(words, "--tuning").value_or(standard_tuning), scale_lengths, a4,
                           saddle.value());
}

Result<GivenInstrument> instrument_of(const CommandDescription& command, const Words& words) {
    const auto file = word(words, "--instrument");
    if (!file) {
        if (words.at("--scale-length").empty()) {
            return usage(std::string{command.name}, "no scale length",
                         "double the distance from nut to 12th fret and give it as --scale-length, or give "
                         "--instrument FILE");
        }
        auto instrument = described_instrument(words);
        if (!instrument) return instrument.error();
        return GivenInstrument{std::move(instrument).value()};
    }
    for (const std::string_view other : {"--scale-length", "--tuning", "--a4", "--thread", "--clockwise"}) {
        if (!words.contains(other) || words.at(other).empty()) continue;
        return usage(std::string{other}, "the instrument file says that already",
                     fmt::format("write it into {}, or leave --instrument out", *file));
    }
    return GivenInstrument{InstrumentFile{std::string{*file}}};
}

Result<std::vector<int>> strings_of(const Words& words) {
    std::vector<int> strings;
    const auto list = word(words, "--string");
    if (!list) return strings;
    for (const std::string_view text : split(*list)) {
        const auto string = number<int>(text);
        if (!string || *string < 1) {
            return usage(fmt::format("--string {}", *list), "no string number",
                         "count from 1, the highest: --string 6, or one a recording: --string 6,5,4");
        }
        strings.push_back(*string);
    }
    const std::size_t recordings = words.at("").size();
    if (strings.size() != 1 && strings.size() != recordings) {
        return usage(fmt::format("--string {}", *list),
                     fmt::format("{} strings for {} recordings", strings.size(), recordings),
                     "give one number for all recordings, or one for each");
    }
    return strings;
}

Result<MeasurementOptions> measurement_of(const Words& words) {
    MeasurementOptions options;
    if (const auto text = word(words, "--plucks")) {
        const auto choice = choice_of("--plucks", *text, {"alternate", "grouped"});
        if (!choice) return choice.error();
        options.order = choice.value() == 0 ? PluckOrder::alternate : PluckOrder::grouped;
    }
    if (const auto text = word(words, "--tolerance")) {
        const auto cents = number_of("--tolerance", *text, 0.01, 50.0, "give cents: 1.5 is common practice");
        if (!cents) return cents.error();
        options.tolerance = Cents{cents.value()};
    }
    if (const auto text = word(words, "--channel")) {
        const auto channel = number<int>(*text);
        if (!channel || *channel < 1) {
            return usage(fmt::format("--channel {}", *text), "no channel number", "count from 1, the first");
        }
        options.channel = *channel;
    }
    return options;
}

Result<LengthUnit> unit_of(const Words& words) {
    const auto text = word(words, "--units");
    if (!text) return LengthUnit::millimetres;
    const auto choice = choice_of("--units", *text, {"mm", "inch"});
    if (!choice) return choice.error();
    return choice.value() == 0 ? LengthUnit::millimetres : LengthUnit::inches;
}

Result<Command> analyze_command(const CommandDescription& command, const Words& words) {
    if (words.at("").empty()) {
        return usage("analyze", "no recording", "name a sound file, or - for standard input");
    }
    auto instrument = instrument_of(command, words);
    if (!instrument) return instrument.error();
    const auto measurement = measurement_of(words);
    if (!measurement) return measurement.error();
    const auto strings = strings_of(words);
    if (!strings) return strings.error();
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    return Command{AnalyzeOptions{words.at(""), strings.value(), std::move(instrument).value(),
                                  measurement.value(), unit.value(), !words.at("--json").empty()}};
}

Result<Command> listen_command(const CommandDescription& command, const Words& words) {
    auto instrument = instrument_of(command, words);
    if (!instrument) return instrument.error();
    const auto measurement = measurement_of(words);
    if (!measurement) return measurement.error();
    if (measurement.value().order == PluckOrder::grouped) {
        return usage("--plucks grouped", "is for recordings",
                     "pluck harmonic and fretted note in turn when midspan listens");
    }
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    BenchOptions bench{measurement.value().tolerance, measurement.value().channel, {}};
    if (const auto text = word(words, "--string")) {
        bench.string = number<int>(*text);
        if (!bench.string) {
            return usage(fmt::format("--string {}", *text), "no string number", "count from 1, the highest");
        }
    }
    ListenOptions options{{},
                          {},
                          std::move(instrument).value(),
                          bench,
                          unit.value(),
                          !words.at("--json").empty(),
                          !words.at("--say").empty()};
    if (const auto device = word(words, "--device")) options.device = *device;
    if (const auto file = word(words, "--keep")) options.keep = *file;
    return Command{std::move(options)};
}

/// A height between 0 and `most`.
Result<std::optional<Millimetres>> height_of(const Words& words, std::string_view option, Millimetres most) {
    const auto text = word(words, option);
    if (!text) return std::optional<Millimetres>{};
    const auto height = parse_length(*text);
    if (!height) return height.error();
    if (!(height.value() >= Millimetres{0.0} && height.value() <= most)) {
        return usage(fmt::format("{} {}", option, *text), fmt::format("outside 0 to {:g} mm", most.value()),
                     "give millimetres, or inches as 0.07in");
    }
    return std::optional{height.value()};
}

/// What is said of a setup by the options that begin with `to`: "--" or "--to-".
Result<SetupWords> setup_words_of(const Words& words, const std::string& to) {
    SetupWords setup;
    if (const auto list = word(words, to + "gauges")) {
        for (const std::string_view text : split(*list)) {
            const auto gauge = parse_gauge(text);
            if (!gauge) return gauge.error();
            setup.gauges.push_back(gauge.value());
        }
    }
    const auto action = height_of(words, to + "action", highest_action);
    if (!action) return action.error();
    setup.action = action.value();
    const auto nut = height_of(words, to + "nut-height", highest_nut);
    if (!nut) return nut.error();
    setup.nut_height = nut.value();
    const auto relief = height_of(words, to + "relief", deepest_relief);
    if (!relief) return relief.error();
    setup.relief = relief.value();
    return setup;
}

Result<Command> predict_command(const CommandDescription& command, const Words& words) {
    if (words.at("--gauges").empty()) {
        return usage("predict", "no gauges", "name the strings that are on: --gauges 10,13,17,26w,36w,46w");
    }
    auto instrument = instrument_of(command, words);
    if (!instrument) return instrument.error();
    auto from = setup_words_of(words, "--");
    if (!from) return from.error();
    auto to = setup_words_of(words, "--to-");
    if (!to) return to.error();
    if (const auto tuning = word(words, "--to-tuning")) to.value().tuning = *tuning;
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    return Command{PredictOptions{std::move(instrument).value(), std::move(from).value(),
                                  std::move(to).value(), unit.value(), !words.at("--json").empty()}};
}

Result<Command> devices_command(const CommandDescription&, const Words& words) {
    return Command{DevicesOptions{!words.at("--json").empty()}};
}

/// What makes a command of its words, in the order of `described`.
using FromWords = Result<Command> (*)(const CommandDescription& command, const Words& words);
constexpr std::array<FromWords, described.size()> from_words{analyze_command, listen_command, predict_command,
                                                             devices_command};

}  // namespace

std::span<const CommandDescription> commands() { return described; }

Result<Command> parse_command_line(std::span<const std::string> arguments) {
    if (arguments.empty()) return usage("no command", "nothing to do", "see midspan --help");
    const std::string& first = arguments.front();
    if (first == "--help" || first == "-h") return Command{ShowText{help_of(commands())}};
    if (first == "--version") return Command{ShowText{"midspan " MIDSPAN_VERSION "\n"}};
    for (std::size_t i = 0; i < described.size(); ++i) {
        if (first != described[i].name) continue;
        const auto words = sorted(described[i], arguments.subspan(1));
        if (!words) return words.error();
        if (!words.value().at("--help").empty()) return Command{ShowText{help_of(described[i])}};
        return from_words[i](described[i], words.value());
    }
    return usage(first, "no such command", "see midspan --help");
}

}  // namespace midspan::program
