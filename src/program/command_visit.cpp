// command_visit.cpp: begins, notes, measures, shows, compares and ends visits.
//
// Room: program. Edge: the disk, the screen.
#include "program/command_visit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "midspan/record/bench_entry.hpp"
#include "midspan/record/record_names.hpp"
#include "midspan/record/record_text.hpp"
#include "program/clock.hpp"
#include "view/bench_words.hpp"
#include "view/columns.hpp"
#include "view/record_pages.hpp"

namespace midspan::program {
namespace {

/// `more` on a line of its own behind what stands there.
void append(std::string& text, const std::optional<std::string>& more) {
    if (!more) return;
    if (!text.empty()) text += '\n';
    text += *more;
}

std::optional<Error> take_over(Visit& visit, const VisitDetails& details, std::size_t strings) {
    if (!details.fitted.empty() && details.fitted.size() != strings) {
        return Error{Fault::usage, "--gauges",
                     fmt::format("{} gauges for {} strings", details.fitted.size(), strings),
                     "give one for each string, string 1 first; ? where it is not known"};
    }
    if (details.day) visit.day = *details.day;
    if (details.who) visit.who = *details.who;
    if (details.strings) visit.strings = *details.strings;
    if (!details.fitted.empty()) visit.fitted = details.fitted;
    if (details.strings_fitted_on) visit.strings_fitted_on = details.strings_fitted_on;
    if (details.temperature) visit.temperature = details.temperature;
    if (details.humidity) visit.humidity = details.humidity;
    append(visit.work_done, details.work_done);
    append(visit.notes, details.note);
    return std::nullopt;
}

/// Strings that were fitted are on the instrument from now on.
std::optional<Error> fit(RecordStore& store, InstrumentEntry entry, const VisitDetails& details) {
    if (!details.strings && details.fitted.empty()) return std::nullopt;
    if (details.strings) entry.strings = *details.strings;
    if (!details.fitted.empty()) entry.fitted = details.fitted;
    return store.change(entry.instrument.name, entry);
}

/// The visit of that number, else the open one, else the last.
Result<MeantVisit> meant(RecordStore& store, const std::optional<std::string>& instrument,
                         std::optional<int> number) {
    if (!instrument) return open_visit_of(store, instrument);
    if (number) return MeantVisit{*instrument, *number};
    const auto visits = store.visits(*instrument);
    if (!visits) return visits.error();
    if (visits.value().empty()) {
        return Error{Fault::usage, fmt::format("'{}'", printable(*instrument)), "has no visits yet",
                     "begin one: midspan visit begin --instrument NAME"};
    }
    return MeantVisit{*instrument, visits.value().back().number};
}

std::optional<Error> fault_of_string(int string, const InstrumentEntry& entry) {
    const std::size_t strings = entry.instrument.strings.size();
    if (string >= 1 && static_cast<std::size_t>(string) <= strings) return std::nullopt;
    return Error{Fault::usage, fmt::format("string {}", string), "no such string",
                 fmt::format("this instrument has strings 1 to {}, 1 the highest", strings)};
}

/// "relief 0.25 mm (0.010 in)", of what stands there under that number; the store says when nothing does.
std::string item_in_words(const Visit& visit, VisitItem item, int number) {
    const auto index = static_cast<std::size_t>(number - 1);
    if (item == VisitItem::measurement && index < visit.measurements.size()) {
        const BenchMeasurement& m = visit.measurements[index];
        return fmt::format("{} {}", in_words(m.quantity),
                           bench_length_in_both(m.value, LengthUnit::millimetres));
    }
    if (item == VisitItem::reading && index < visit.readings.size()) {
        const auto compared =
            std::ranges::count_if(visit.readings[index].analysis.strings,
                                  [](const AnalysedString& s) { return s.comparison.has_value(); });
        return fmt::format("of {} string{}, {} UTC", compared, compared == 1 ? "" : "s",
                           visit.readings[index].taken_at.substr(11, 5));
    }
    if (item == VisitItem::survey && index < visit.surveys.size())
        return fmt::format("of the neck, {} UTC", visit.surveys[index].taken_at.substr(11, 5));
    if (item == VisitItem::move && index < visit.moves.size())
        return fmt::format("of the saddle of string {}", visit.moves[index].string);
    return "none";
}

/// Whoever listens round by round has moves recorded already; one more of that string, typed as well, would
/// count twice.
std::string earlier_moves(const Visit& before, int string) {
    std::string earlier;
    for (std::size_t i = 0; i < before.moves.size(); ++i) {
        const RecordedMove& move = before.moves[i];
        const bool stuck = move.toward_tail == Millimetres{0.0};
        if (move.string != string || move.removed_at || stuck) continue;
        earlier +=
            fmt::format("{}move {} at {} UTC{}{}", earlier.empty() ? "" : "; ", i + 1,
                        move.made_at.substr(11, 5), move.note.empty() ? "" : ", ", printable(move.note));
    }
    if (earlier.empty()) return {};
    return fmt::format(
        "All moves of a visit count together. String {} has moved in this one before: {}.\n"
        "If it is the same move, take this one back: midspan visit remove move {}\n",
        string, earlier, before.moves.size() + 1);
}

std::string name_of_item(VisitItem item, int number) { return fmt::format("{} {}", name_of(item), number); }

std::string name_of_visit(const MeantVisit& visit) {
    return fmt::format("visit {} of '{}'", visit.number, printable(visit.instrument));
}

}  // namespace

Result<Outcome> run(const BeginVisit& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto entry = store.value().instrument(command.instrument);
    if (!entry) return entry.error();
    Visit visit{};
    visit.day = today();
    visit.begun_at = now();
    visit.strings = entry.value().strings;
    visit.fitted = entry.value().fitted;
    if (auto fault = take_over(visit, command.details, entry.value().instrument.strings.size())) {
        return *std::move(fault);
    }
    const auto number = store.value().begin_visit(command.instrument, visit);
    if (!number) return number.error();
    if (auto fault = fit(store.value(), entry.value(), command.details)) return *std::move(fault);
    return Outcome{fmt::format("Began {}.\n", name_of_visit({command.instrument, number.value()})), {}};
}

Result<Outcome> run(const NoteVisit& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto open = open_visit_of(store.value(), command.instrument);
    if (!open) return open.error();
    const auto entry = store.value().instrument(open.value().instrument);
    if (!entry) return entry.error();
    auto visit = store.value().visit(open.value().instrument, open.value().number);
    if (!visit) return visit.error();
    if (auto fault = take_over(visit.value(), command.details, entry.value().instrument.strings.size())) {
        return *std::move(fault);
    }
    if (command.end) visit.value().ended_at = now();
    if (auto fault = store.value().change_visit(open.value().instrument, visit.value())) {
        return *std::move(fault);
    }
    if (auto fault = fit(store.value(), entry.value(), command.details)) return *std::move(fault);
    return Outcome{fmt::format("{} {}.\n", command.end ? "Ended" : "Noted in", name_of_visit(open.value())),
                   {}};
}

Result<Outcome> run(const ListVisits& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    if (command.json) {
        const auto whole = store.value().whole(command.instrument);
        if (!whole) return whole.error();
        return Outcome{record_json({{whole.value()}}), {}};
    }
    const auto visits = store.value().visits(command.instrument);
    if (!visits) return visits.error();
    return Outcome{visits_page(visits.value()), {}};
}

Result<Outcome> run(const ShowVisit& command, const Screen& screen) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto which = meant(store.value(), command.instrument, command.number);
    if (!which) return which.error();
    const auto entry = store.value().instrument(which.value().instrument);
    if (!entry) return entry.error();
    const auto visit = store.value().visit(which.value().instrument, which.value().number);
    if (!visit) return visit.error();
    if (command.json) return Outcome{record_json({{{entry.value(), {}, {visit.value()}}}}), {}};
    return Outcome{visit_page(entry.value(), visit.value(), {command.unit, screen.utf8, screen.emphasis}),
                   {}};
}

Result<Outcome> run(const MovedSaddle& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto open = open_visit_of(store.value(), command.instrument);
    if (!open) return open.error();
    const auto entry = store.value().instrument(open.value().instrument);
    if (!entry) return entry.error();
    if (auto fault = fault_of_string(command.move.string, entry.value())) return *std::move(fault);
    RecordedMove move = command.move;
    move.made_at = now();
    const auto pitch = entry.value().instrument.string(move.string).saddle.thread_pitch;
    if (move.turns && !move.toward_tail && pitch) move.toward_tail = move.turns->value() * *pitch;
    const auto before = store.value().visit(open.value().instrument, open.value().number);
    if (!before) return before.error();
    if (auto fault = store.value().add(open.value().instrument, open.value().number, move)) {
        return *std::move(fault);
    }
    return Outcome{fmt::format("Recorded in {}.\n{}", name_of_visit(open.value()),
                               earlier_moves(before.value(), move.string)),
                   {}};
}

Result<Outcome> run(const Measure& command) {
    BenchMeasurement measurement = command.measurement;
    if (!command.yes) {
        const auto question = question_about(measurement.quantity, measurement.value, measurement.as_typed);
        if (question) {
            const std::string said =
                fmt::format("{} {}", in_words(measurement.quantity), measurement.as_typed);
            if (auto refusal = confirmed(said, *question)) return *std::move(refusal);
        }
    }
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto open = open_visit_of(store.value(), command.instrument);
    if (!open) return open.error();
    const auto entry = store.value().instrument(open.value().instrument);
    if (!entry) return entry.error();
    if (measurement.string) {
        if (auto fault = fault_of_string(*measurement.string, entry.value())) return *std::move(fault);
    }
    measurement.taken_at = now();
    if (auto fault = store.value().add(open.value().instrument, open.value().number, measurement)) {
        return *std::move(fault);
    }
    const std::string how = in_words(measurement.method);
    return Outcome{fmt::format("Recorded {} {}{}{} in {}.\n", in_words(measurement.quantity),
                               bench_length_in_both(measurement.value, LengthUnit::millimetres),
                               how.empty() ? "" : ", ", printable(how), name_of_visit(open.value())),
                   {}};
}

Result<Outcome> run(const RemoveItem& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto which = meant(store.value(), command.instrument, command.visit);
    if (!which) return which.error();
    const auto& [instrument, number] = which.value();
    const auto visit = store.value().visit(instrument, number);
    if (!visit) return visit.error();
    const std::string what = item_in_words(visit.value(), command.item, command.number);
    if (!command.yes && what != "none") {
        if (auto refusal =
                confirmed(name_of_item(command.item, command.number),
                          fmt::format("{}, to be taken out of {}", what, name_of_visit(which.value())))) {
            return *std::move(refusal);
        }
    }
    if (auto fault = store.value().remove(instrument, number, command.item, command.number, now()))
        return *std::move(fault);
    return Outcome{fmt::format("Removed {}, {}, from {}; midspan visit restore brings it back.\n",
                               name_of_item(command.item, command.number), what,
                               name_of_visit(which.value()))};
}

Result<Outcome> run(const RestoreItem& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto which = meant(store.value(), command.instrument, command.visit);
    if (!which) return which.error();
    const auto& [instrument, number] = which.value();
    if (auto fault = store.value().restore(instrument, number, command.item, command.number))
        return *std::move(fault);
    return Outcome{fmt::format("Restored {} to {}.\n", name_of_item(command.item, command.number),
                               name_of_visit(which.value()))};
}

Result<Outcome> run(const CompareVisits& command, const Screen& screen) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const Look look{command.unit, screen.utf8, screen.emphasis};
    std::optional<int> last;
    if (command.visits) last = command.visits->second;
    const auto which = meant(store.value(), command.instrument, last);
    if (!which) return which.error();
    const std::string& name = which.value().instrument;
    const auto entry = store.value().instrument(name);
    if (!entry) return entry.error();
    const auto later = store.value().visit(name, last.value_or(which.value().number));
    if (!later) return later.error();
    if (!command.visits) {
        if (command.json) return Outcome{record_json({{{entry.value(), {}, {later.value()}}}}), {}};
        return Outcome{before_and_after_page(entry.value(), as_it_stands(later.value()), look), {}};
    }
    const auto earlier = store.value().visit(name, command.visits->first);
    if (!earlier) return earlier.error();
    if (command.json) {
        return Outcome{record_json({{{entry.value(), {}, {earlier.value(), later.value()}}}}), {}};
    }
    return Outcome{
        two_visits_page(entry.value(), as_it_stands(earlier.value()), as_it_stands(later.value()), look), {}};
}

Result<Outcome> run(const ShowHistory& command, const Screen& screen) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto entry = store.value().instrument(command.instrument);
    if (!entry) return entry.error();
    if (auto fault = fault_of_string(command.string, entry.value())) return *std::move(fault);
    const auto readings = store.value().history(command.instrument, command.string);
    if (!readings) return readings.error();
    if (!command.json) {
        return Outcome{
            history_page(readings.value(), {LengthUnit::millimetres, screen.utf8, screen.emphasis}), {}};
    }
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    for (const PastReading& each : readings.value()) {
        nlohmann::ordered_json row{{"visit", each.visit},
                                   {"day", each.day},
                                   {"taken_at", each.taken_at},
                                   {"tolerance_cents", each.tolerance.value()},
                                   {"error_cents", nullptr},
                                   {"uncertainty_cents", nullptr},
                                   {"verdict", name_of(each.string.verdict)}};
        if (const auto& found = each.string.comparison) {
            row["error_cents"] = found->error.value.value();
            row["uncertainty_cents"] = found->error.uncertainty.value();
        }
        list.push_back(std::move(row));
    }
    const nlohmann::ordered_json history{{"schema", "midspan/history/1"},
                                         {"instrument", command.instrument},
                                         {"string", command.string},
                                         {"readings", std::move(list)}};
    using Json = nlohmann::ordered_json;
    return Outcome{history.dump(2, ' ', false, Json::error_handler_t::replace) + '\n', {}};
}

}  // namespace midspan::program
