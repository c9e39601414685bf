// command_instrument.cpp: adds, changes, lists, shows, deletes and restores instruments.
//
// Room: program. Edge: the disk, the screen.
#include "program/command_instrument.hpp"

#include <fmt/format.h>

#include "midspan/record/record_text.hpp"
#include "program/clock.hpp"
#include "program/given_instrument.hpp"
#include "view/columns.hpp"
#include "view/record_pages.hpp"

namespace midspan::program {
namespace {

void take_over(Saddle& saddle, const Saddle& said) {
    if (said.thread_pitch) saddle.thread_pitch = said.thread_pitch;
    if (said.clockwise_is_toward_tail) saddle.clockwise_is_toward_tail = said.clockwise_is_toward_tail;
    if (said.travel_toward_nut) saddle.travel_toward_nut = said.travel_toward_nut;
    if (said.travel_toward_tail) saddle.travel_toward_tail = said.travel_toward_tail;
}

std::string tuning_of(const Instrument& instrument) {
    std::string tuning;
    for (auto string = instrument.strings.rbegin(); string != instrument.strings.rend(); ++string)
        tuning += (tuning.empty() ? "" : ",") + string->open_note.text();
    return tuning;
}

/// In the order of the tuning.
std::vector<Millimetres> scale_lengths_of(const Instrument& instrument) {
    std::vector<Millimetres> lengths;
    for (auto string = instrument.strings.rbegin(); string != instrument.strings.rend(); ++string)
        lengths.push_back(string->scale_length);
    return lengths;
}

/// `instrument` with what was said about it.
Result<Instrument> changed(const Instrument& instrument, const InstrumentDetails& details) {
    const auto lengths = details.scale_lengths.empty() ? scale_lengths_of(instrument) : details.scale_lengths;
    auto made = make_instrument(details.tuning.value_or(tuning_of(instrument)), lengths, instrument.a4, {});
    if (!made) return made.error();
    Instrument result = std::move(made).value();
    result.name = instrument.name;
    result.left_handed = instrument.left_handed || details.left_handed;
    for (std::size_t i = 0; i < result.strings.size(); ++i) {
        if (i < instrument.strings.size()) result.strings[i].saddle = instrument.strings[i].saddle;
        take_over(result.strings[i].saddle, details.saddle);
    }
    return result;
}

/// The rest of what was said.
std::optional<Error> take_over(InstrumentEntry& entry, const InstrumentDetails& details) {
    if (details.kind) entry.kind = *details.kind;
    if (details.strings) entry.strings = *details.strings;
    if (!details.fitted.empty()) entry.fitted = details.fitted;
    if (details.frets) entry.frets = details.frets;
    if (details.fingerboard_radius) entry.fingerboard_radius = details.fingerboard_radius;
    if (details.bridge) entry.bridge = *details.bridge;
    if (details.notes) entry.notes = *details.notes;
    if (entry.fitted.empty() || entry.fitted.size() == entry.instrument.strings.size()) return std::nullopt;
    return Error{
        Fault::usage, "--gauges",
        fmt::format("{} gauges for {} strings", entry.fitted.size(), entry.instrument.strings.size()),
        "give one for each string, string 1 first; ? where it is not known"};
}

/// From the file, or from the words alone.
Result<Instrument> described(const AddInstrument& command) {
    if (!command.file) {
        if (command.details.scale_lengths.empty()) {
            return Error{Fault::usage, "instrument add", "no scale length",
                         "double the distance from nut to 12th fret and give it as --scale-length, or give "
                         "--file FILE"};
        }
        return make_instrument(command.details.tuning.value_or(std::string{standard_tuning}),
                               command.details.scale_lengths, Hertz{440.0}, command.details.saddle);
    }
    const auto read = instrument_of(GivenInstrument{InstrumentFile{*command.file}});
    if (!read) return read.error();
    return changed(read.value(), command.details);
}

std::string quoted_name(const std::string& name) { return fmt::format("'{}'", printable(name)); }

}  // namespace

Result<Outcome> run(const AddInstrument& command) {
    auto instrument = described(command);
    if (!instrument) return instrument.error();
    InstrumentEntry entry{std::move(instrument).value()};
    if (!command.name.empty()) entry.instrument.name = command.name;
    if (entry.instrument.name.empty()) {
        return Error{Fault::usage, "instrument add", "no name", "give it one: midspan instrument add NAME"};
    }
    entry.instrument.left_handed = entry.instrument.left_handed || command.details.left_handed;
    if (auto fault = take_over(entry, command.details)) return *std::move(fault);
    entry.added_at = now();
    auto store = opened_record(command.record);
    if (!store) return store.error();
    if (auto fault = store.value().add(entry)) return *std::move(fault);
    return Outcome{fmt::format("Added {}.\n", quoted_name(entry.instrument.name)), {}};
}

Result<Outcome> run(const ChangeInstrument& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    auto found = store.value().instrument(command.name);
    if (!found) return found.error();
    InstrumentEntry entry = std::move(found).value();
    auto instrument = changed(entry.instrument, command.details);
    if (!instrument) return instrument.error();
    entry.instrument = std::move(instrument).value();
    if (command.new_name) entry.instrument.name = *command.new_name;
    if (auto fault = take_over(entry, command.details)) return *std::move(fault);
    const auto known = store.value().learned_screws(command.name);
    if (!known) return known.error();
    if (auto fault = store.value().change(command.name, entry)) return *std::move(fault);
    const auto kept = store.value().learned_screws(entry.instrument.name);
    if (!kept) return kept.error();
    const bool forgot = kept.value().size() < known.value().size();
    return Outcome{fmt::format(
        "Changed {}.{}\n", quoted_name(entry.instrument.name),
        forgot ? " What its screws were learned to do is learned anew, for they are others." : "")};
}

Result<Outcome> run(const ListInstruments& command) {
    if (command.names && !record_is_there(command.record)) return Outcome{};
    auto store = opened_record(command.record);
    if (!store) return store.error();
    if (command.deleted) {
        const auto deleted = store.value().deleted_instruments();
        if (!deleted) return deleted.error();
        SetupRecord record;
        for (const InstrumentEntry& entry : deleted.value())
            record.instruments.push_back({entry, {}, {}});
        return Outcome{command.json ? record_json(record) : deleted_page(deleted.value()), {}};
    }
    const auto list = store.value().instruments();
    if (!list) return list.error();
    if (command.names) {
        std::string names;
        for (const ListedInstrument& each : list.value())
            names += printable(each.entry.instrument.name) + '\n';
        return Outcome{names, {}};
    }
    if (!command.json) return Outcome{instruments_page(list.value()), {}};
    SetupRecord record;
    for (const ListedInstrument& each : list.value())
        record.instruments.push_back({each.entry, {}, {}});
    return Outcome{record_json(record), {}};
}

Result<Outcome> run(const ShowInstrument& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto entry = store.value().instrument(command.name);
    if (!entry) return entry.error();
    const auto screws = store.value().learned_screws(command.name);
    if (!screws) return screws.error();
    if (command.json) return Outcome{record_json({{{entry.value(), screws.value(), {}}}}), {}};
    const auto visits = store.value().visits(command.name);
    if (!visits) return visits.error();
    return Outcome{
        instrument_page(entry.value(), screws.value(), command.unit) + '\n' + visits_page(visits.value()),
        {}};
}

Result<Outcome> run(const DeleteInstrument& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto visits = store.value().visits(command.name);
    if (!visits) return visits.error();
    if (!command.yes) {
        if (auto refusal = confirmed(quoted_name(command.name),
                                     fmt::format("to be deleted, with {} visits", visits.value().size()))) {
            return *std::move(refusal);
        }
    }
    if (auto fault = store.value().remove(command.name, now())) return *std::move(fault);
    return Outcome{
        fmt::format("Deleted {}; midspan instrument restore brings it back.\n", quoted_name(command.name)),
        {}};
}

Result<Outcome> run(const RestoreInstrument& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    if (auto fault = store.value().restore(command.name)) return *std::move(fault);
    return Outcome{fmt::format("Restored {}.\n", quoted_name(command.name)), {}};
}

}  // namespace midspan::program
