// record_command_line.cpp: the words behind the commands of the setup record, turned into their options.
//
// Room: program. Pure.
#include "program/record_command_line.hpp"

#include <fmt/format.h>

#include "midspan/instrument/length.hpp"
#include "midspan/record/bench_entry.hpp"
#include "midspan/record/record_names.hpp"
#include "view/columns.hpp"

namespace midspan::program {
namespace {

std::optional<std::string> text_of(const Words& words, std::string_view option) {
    const auto text = word(words, option);
    return text ? std::optional<std::string>{*text} : std::nullopt;
}

bool given(const Words& words, std::string_view option) { return !words.at(option).empty(); }

/// The one word that stands behind the command.
Result<std::string> name_of_instrument(const CommandDescription& command, const Words& words) {
    const auto& operands = words.at("");
    if (operands.size() == 1 && !operands.front().empty()) return operands.front();
    return usage(
        std::string{command.name}, operands.empty() ? "no instrument" : "more than one name",
        fmt::format("give one name, in quotes when it has blanks: midspan {} 'Bench guitar'", command.name));
}

Result<std::string> named_instrument(const CommandDescription& command, const Words& words) {
    if (const auto name = text_of(words, "--instrument")) return *name;
    return usage(std::string{command.name}, "no instrument", "say which: --instrument NAME");
}

/// A length behind an option, between bounds.
Result<std::optional<Millimetres>> length_of(const Words& words, std::string_view option, Millimetres least,
                                             Millimetres most) {
    const auto text = word(words, option);
    if (!text) return std::optional<Millimetres>{};
    const auto length = parse_length(*text);
    if (!length) return length.error();
    if (length.value() >= least && length.value() <= most) return std::optional{length.value()};
    return usage(fmt::format("{} {}", option, *text),
                 fmt::format("outside {:g} to {:g} mm", least.value(), most.value()),
                 "a plain number is millimetres; name inches: 9.5in");
}

Result<std::optional<int>> count_of(const Words& words, std::string_view option, int least, int most) {
    const auto text = word(words, option);
    if (!text) return std::optional<int>{};
    const auto count = number<int>(*text);
    if (count && *count >= least && *count <= most) return std::optional<int>{*count};
    return usage(fmt::format("{} {}", option, *text), "no such number",
                 fmt::format("give {} to {}", least, most));
}

template <class Enumeration>
Result<std::optional<Enumeration>> named(const Words& words, std::string_view option,
                                         std::string_view choices) {
    const auto text = word(words, option);
    if (!text) return std::optional<Enumeration>{};
    std::string name{*text};
    for (char& c : name)
        c = c == '-' ? '_' : c;
    const auto value = from_name<Enumeration>(name);
    if (value) return value;
    return usage(fmt::format("{} {}", option, *text), "no such choice",
                 fmt::format("write one of {}", choices));
}

/// "3mm,1/8in": the way that is free toward the nut and toward the tail; either may be empty.
std::optional<Error> read_travel(const Words& words, Saddle& saddle) {
    const auto text = word(words, "--travel");
    if (!text) return std::nullopt;
    const auto sides = split(*text);
    const Error refusal =
        usage(fmt::format("--travel {}", *text), "not two lengths",
              "give the free way toward the nut and toward the tail, 0 to 50 mm: --travel 3,1.5");
    if (sides.size() != 2) return refusal;
    std::optional<Millimetres>* const into[]{&saddle.travel_toward_nut, &saddle.travel_toward_tail};
    for (std::size_t i = 0; i < 2; ++i) {
        if (sides[i].empty()) continue;
        const auto length = parse_length(sides[i]);
        if (!length) return length.error();
        if (length.value() < Millimetres{0.0} || length.value() > longest_travel) return refusal;
        *into[i] = length.value();
    }
    return std::nullopt;
}

std::optional<Error> read_gauges(const Words& words, std::vector<FittedString>& fitted) {
    const auto text = word(words, "--gauges");
    if (!text) return std::nullopt;
    auto gauges = parse_gauges(*text);
    if (!gauges) return gauges.error();
    fitted = std::move(gauges).value();
    return std::nullopt;
}

Result<InstrumentDetails> details_of(const Words& words) {
    constexpr int fewest_frets = 1;
    constexpr int most_frets = 36;
    InstrumentDetails details;
    details.tuning = text_of(words, "--tuning");
    for (const std::string& list : words.at("--scale-length")) {
        for (const std::string_view text : split(list)) {
            const auto length = parse_scale_length(text);
            if (!length) return length.error();
            details.scale_lengths.push_back(length.value());
        }
    }
    if (const auto text = word(words, "--thread")) {
        const auto pitch = parse_thread_pitch(*text);
        if (!pitch) return pitch.error();
        details.saddle.thread_pitch = pitch.value();
    }
    if (const auto text = word(words, "--clockwise")) {
        const auto choice = choice_of("--clockwise", *text, {"toward-tail", "toward-nut"});
        if (!choice) return choice.error();
        details.saddle.clockwise_is_toward_tail = choice.value() == 0;
    }
    if (auto fault = read_travel(words, details.saddle)) return *std::move(fault);
    const auto kind = named<InstrumentKind>(words, "--kind", "electric, acoustic, classical, bass or other");
    if (!kind) return kind.error();
    details.kind = kind.value();
    details.strings = text_of(words, "--strings");
    if (auto fault = read_gauges(words, details.fitted)) return *std::move(fault);
    const auto frets = count_of(words, "--frets", fewest_frets, most_frets);
    if (!frets) return frets.error();
    details.frets = frets.value();
    const auto radius = length_of(words, "--radius", Millimetres{100.0}, Millimetres{2000.0});
    if (!radius) return radius.error();
    details.fingerboard_radius = radius.value();
    const auto bridge =
        named<BridgeKind>(words, "--bridge", "individual-saddles, shared-saddles or one-piece");
    if (!bridge) return bridge.error();
    details.bridge = bridge.value();
    details.left_handed = given(words, "--left-handed");
    details.notes = text_of(words, "--notes");
    return details;
}

Result<std::optional<Day>> day_of(const Words& words, std::string_view option) {
    const auto text = word(words, option);
    if (!text) return std::optional<Day>{};
    auto day = parse_day(*text);
    if (!day) return day.error();
    return std::optional<Day>{std::move(day).value()};
}

Result<VisitDetails> visit_details_of(const Words& words) {
    VisitDetails details;
    for (auto [option, into] :
         {std::pair{"--day", &details.day}, std::pair{"--fitted", &details.strings_fitted_on}}) {
        auto day = day_of(words, option);
        if (!day) return day.error();
        *into = std::move(day).value();
    }
    details.who = text_of(words, "--who");
    details.strings = text_of(words, "--strings");
    if (auto fault = read_gauges(words, details.fitted)) return *std::move(fault);
    if (const auto text = word(words, "--temperature")) {
        const auto degrees = number_of("--temperature", *text, -10.0, 45.0,
                                       "give degrees Celsius: 21 is 70 degrees Fahrenheit");
        if (!degrees) return degrees.error();
        details.temperature = Celsius{degrees.value()};
    }
    if (const auto text = word(words, "--humidity")) {
        const auto percent = number_of("--humidity", *text, 0.0, 100.0, "give percent: 45");
        if (!percent) return percent.error();
        details.humidity = RelativeHumidity{percent.value()};
    }
    details.work_done = text_of(words, "--done");
    details.note = text_of(words, "--note");
    return details;
}

Result<Command> note_or_end(const Words& words, bool end) {
    auto details = visit_details_of(words);
    if (!details) return details.error();
    return Command{
        NoteVisit{record_file_of(words), text_of(words, "--instrument"), std::move(details).value(), end}};
}

/// "1 1/4", "1.25": without sign.
std::optional<double> turns_of(std::string_view text) {
    // A length in inches is written as turns are.
    const auto length = parse_length(std::string{text} + "in");
    if (!length || length.value() < Millimetres{0.0}) return std::nullopt;
    return length.value() / millimetres_per_inch;
}

}  // namespace

RecordFile record_file_of(const Words& words) { return text_of(words, "--record"); }

Result<Command> instrument_add_command(const CommandDescription&, const Words& words) {
    const auto& operands = words.at("");
    if (operands.size() > 1) {
        return usage("instrument add", "more than one name",
                     "give one name, in quotes when it has blanks: midspan instrument add 'Bench guitar'");
    }
    auto details = details_of(words);
    if (!details) return details.error();
    return Command{AddInstrument{record_file_of(words), operands.empty() ? "" : operands.front(),
                                 text_of(words, "--file"), std::move(details).value()}};
}

Result<Command> instrument_change_command(const CommandDescription& command, const Words& words) {
    auto name = name_of_instrument(command, words);
    if (!name) return name.error();
    auto details = details_of(words);
    if (!details) return details.error();
    const auto new_name = text_of(words, "--name");
    if (new_name && new_name->empty()) return usage("--name", "no name", "give the new one");
    return Command{ChangeInstrument{record_file_of(words), std::move(name).value(), new_name,
                                    std::move(details).value()}};
}

Result<Command> instrument_list_command(const CommandDescription&, const Words& words) {
    return Command{ListInstruments{record_file_of(words), given(words, "--names"), given(words, "--deleted"),
                                   given(words, "--json")}};
}

Result<Command> instrument_show_command(const CommandDescription& command, const Words& words) {
    auto name = name_of_instrument(command, words);
    if (!name) return name.error();
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    return Command{
        ShowInstrument{record_file_of(words), std::move(name).value(), unit.value(), given(words, "--json")}};
}

Result<Command> instrument_delete_command(const CommandDescription& command, const Words& words) {
    auto name = name_of_instrument(command, words);
    if (!name) return name.error();
    return Command{DeleteInstrument{record_file_of(words), std::move(name).value(), given(words, "--yes")}};
}

Result<Command> instrument_restore_command(const CommandDescription& command, const Words& words) {
    auto name = name_of_instrument(command, words);
    if (!name) return name.error();
    return Command{RestoreInstrument{record_file_of(words), std::move(name).value()}};
}

Result<Command> visit_begin_command(const CommandDescription& command, const Words& words) {
    auto name = named_instrument(command, words);
    if (!name) return name.error();
    auto details = visit_details_of(words);
    if (!details) return details.error();
    return Command{BeginVisit{record_file_of(words), std::move(name).value(), std::move(details).value()}};
}

Result<Command> visit_note_command(const CommandDescription&, const Words& words) {
    return note_or_end(words, false);
}

Result<Command> visit_end_command(const CommandDescription&, const Words& words) {
    return note_or_end(words, true);
}

Result<Command> visit_list_command(const CommandDescription& command, const Words& words) {
    auto name = named_instrument(command, words);
    if (!name) return name.error();
    return Command{ListVisits{record_file_of(words), std::move(name).value(), given(words, "--json")}};
}

Result<Command> visit_show_command(const CommandDescription&, const Words& words) {
    const auto number = count_of(words, "--visit", 1, 1'000'000);
    if (!number) return number.error();
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    if (number.value() && !given(words, "--instrument")) {
        return usage("--visit", "of which instrument?", "say which: --instrument NAME");
    }
    return Command{ShowVisit{record_file_of(words), text_of(words, "--instrument"), number.value(),
                             unit.value(), given(words, "--json")}};
}

Result<Command> visit_moved_command(const CommandDescription&, const Words& words) {
    const auto& operands = words.at("");
    const auto string = operands.size() == 1 ? number<int>(operands.front()) : std::nullopt;
    if (!string) {
        return usage("visit moved", "which string?",
                     "give its number, 1 the highest: midspan visit moved 6 --toward tail --turns \"1 1/4\"");
    }
    const auto way = word(words, "--toward");
    if (!way) return usage("visit moved", "which way?", "say --toward tail or --toward nut");
    const auto toward = choice_of("--toward", *way, {"tail", "nut"});
    if (!toward) return toward.error();
    const double sign = toward.value() == 0 ? 1.0 : -1.0;

    RecordedMove move{{}, *string, {}, {}, text_of(words, "--note").value_or("")};
    if (const auto text = word(words, "--turns")) {
        const auto turns = turns_of(*text);
        if (!turns || *turns > 50.0) {
            return usage(fmt::format("--turns {}", *text), "no turns", "write 1.25 or \"1 1/4\", 0 to 50");
        }
        move.turns = Turns{sign * *turns};
    }
    const auto by = length_of(words, "--by", Millimetres{0.0}, longest_travel);
    if (!by) return by.error();
    if (by.value()) move.toward_tail = sign * *by.value();
    if (!move.turns && !move.toward_tail) {
        return usage("visit moved", "how far?", "say --turns \"1 1/4\", or --by 0.6mm, or both");
    }
    return Command{MovedSaddle{record_file_of(words), text_of(words, "--instrument"), std::move(move)}};
}

namespace {

struct MeantItem {
    VisitItem item;
    int number;
    std::optional<int> visit;
};

/// "measurement 2", and of which visit.
Result<MeantItem> item_of(const CommandDescription& command, const Words& words) {
    const auto& operands = words.at("");
    const auto item = operands.size() == 2 ? from_name<VisitItem>(operands[0]) : std::nullopt;
    const auto which = operands.size() == 2 ? number<int>(operands[1]) : std::nullopt;
    if (!item || !which) {
        return usage(
            std::string{command.name}, "what of it?",
            fmt::format("name measurement, reading, survey or move and its number, which midspan visit show "
                        "tells: midspan {} measurement 2",
                        command.name));
    }
    const auto visit = count_of(words, "--visit", 1, 1'000'000);
    if (!visit) return visit.error();
    if (visit.value() && !given(words, "--instrument"))
        return usage("--visit", "of which instrument?", "say which: --instrument NAME");
    return MeantItem{*item, *which, visit.value()};
}

}  // namespace

Result<Command> visit_remove_command(const CommandDescription& command, const Words& words) {
    const auto meant = item_of(command, words);
    if (!meant) return meant.error();
    return Command{RemoveItem{record_file_of(words), text_of(words, "--instrument"), meant.value().visit,
                              meant.value().item, meant.value().number, given(words, "--yes")}};
}

Result<Command> visit_restore_command(const CommandDescription& command, const Words& words) {
    const auto meant = item_of(command, words);
    if (!meant) return meant.error();
    return Command{RestoreItem{record_file_of(words), text_of(words, "--instrument"), meant.value().visit,
                               meant.value().item, meant.value().number}};
}

Result<Command> measure_command(const CommandDescription&, const Words& words) {
    constexpr std::string_view what = "relief, action, nut-height, fret-height or pickup-height";
    const auto& operands = words.at("");
    if (operands.size() != 2) {
        return usage("measure", "not one thing and its value",
                     fmt::format("name {}, and a length: midspan measure relief 0.010in", what));
    }
    std::string thing = operands[0];
    for (char& c : thing)
        c = c == '-' ? '_' : c;
    const auto quantity = from_name<BenchQuantity>(thing);
    if (!quantity) return usage(operands[0], "is not measured here", fmt::format("name {}", what));
    const auto value = parse_length(operands[1]);
    if (!value) return value.error();
    constexpr Millimetres most{30.0};
    if (magnitude(value.value()) > most) {
        return usage(fmt::format("{} {}", operands[0], operands[1]), "outside -30 to 30 mm",
                     "a plain number is millimetres; name inches: 0.010in, 4/64in");
    }

    BenchMeasurement measurement{
        {}, *quantity, value.value(), operands[1], {}, {}, text_of(words, "--note").value_or("")};
    if (const auto text = word(words, "--held")) {
        const auto held = parse_held(*text);
        if (!held) return held.error();
        measurement.method.held = held.value().frets;
        measurement.method.last_fret_held = held.value().last;
    }
    constexpr int last_fret = 36;
    for (auto [option, into] :
         {std::pair{"--string", &measurement.string}, std::pair{"--capo", &measurement.method.capo},
          std::pair{"--read-at", &measurement.method.read_at}}) {
        const auto count = count_of(words, option, 1, last_fret);
        if (!count) return count.error();
        *into = count.value();
    }
    measurement.method.pickup = text_of(words, "--pickup").value_or("");
    measurement.method.tool = text_of(words, "--tool").value_or("");
    return Command{Measure{record_file_of(words), text_of(words, "--instrument"), std::move(measurement),
                           given(words, "--yes")}};
}

Result<Command> compare_command(const CommandDescription&, const Words& words) {
    CompareVisits compare{record_file_of(words),
                          text_of(words, "--instrument"),
                          {},
                          LengthUnit::millimetres,
                          given(words, "--json")};
    if (const auto text = word(words, "--visits")) {
        const auto both = split(*text);
        const auto one = number<int>(both[0]);
        const auto other = both.size() == 2 ? number<int>(both[1]) : std::nullopt;
        if (!one || !other || *one < 1 || *other < 1) {
            return usage(fmt::format("--visits {}", *text), "not two visits",
                         "give two numbers: --visits 1,2");
        }
        if (!compare.instrument)
            return usage("--visits", "of which instrument?", "say which: --instrument NAME");
        compare.visits = std::pair{*one, *other};
    }
    const auto unit = unit_of(words);
    if (!unit) return unit.error();
    compare.unit = unit.value();
    return Command{std::move(compare)};
}

Result<Command> history_command(const CommandDescription& command, const Words& words) {
    auto name = named_instrument(command, words);
    if (!name) return name.error();
    const auto string = count_of(words, "--string", 1, 12);
    if (!string) return string.error();
    if (!string.value()) return usage("history", "of which string?", "say which: --string 6");
    return Command{
        ShowHistory{record_file_of(words), std::move(name).value(), *string.value(), given(words, "--json")}};
}

}  // namespace midspan::program
