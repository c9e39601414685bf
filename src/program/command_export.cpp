// command_export.cpp: out of the record, into the record.
//
// Room: program. Edge: the disk.
#include "program/command_export.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "midspan/record/record_store.hpp"
#include "midspan/record/record_text.hpp"
#include "program/text_file.hpp"

namespace midspan::program {
namespace {

Result<SetupRecord> wanted(RecordStore& store, const std::optional<std::string>& instrument) {
    if (!instrument) return store.whole();
    auto one = store.whole(*instrument);
    if (!one) return one.error();
    SetupRecord record;
    record.instruments.push_back(std::move(one).value());
    return record;
}

std::string written(const SetupRecord& record, ExportForm form) {
    switch (form) {
        case ExportForm::readings_csv:
            return readings_csv(record);
        case ExportForm::measurements_csv:
            return measurements_csv(record);
        case ExportForm::surveys_csv:
            return surveys_csv(record);
        case ExportForm::json:
            break;
    }
    return record_json(record);
}

/// The names that are in the record and in what is to come.
Result<std::vector<std::string>> clashes(RecordStore& store, const SetupRecord& coming) {
    const auto there = store.instruments();
    if (!there) return there.error();
    std::vector<std::string> names;
    for (const InstrumentRecord& one : coming.instruments) {
        const std::string& name = one.entry.instrument.name;
        const bool known = std::ranges::any_of(there.value(), [&name](const ListedInstrument& listed) {
            return listed.entry.instrument.name == name;
        });
        if (known && !one.entry.deleted_at) names.push_back(name);
    }
    return names;
}

}  // namespace

Result<Outcome> run(const ExportRecord& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto record = wanted(store.value(), command.instrument);
    if (!record) return record.error();
    std::string text = written(record.value(), command.form);
    if (command.output == "-") return Outcome{std::move(text), {}};
    if (auto error = write_text(command.output, text)) return *std::move(error);
    return Outcome{};
}

Result<Outcome> run(const ImportRecord& command) {
    const auto text = read_text(command.file);
    if (!text) return text.error();
    const auto record = parse_record(text.value(), command.file == "-" ? "standard input" : command.file);
    if (!record) return record.error();
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto known = clashes(store.value(), record.value());
    if (!known) return known.error();
    if (!known.value().empty()) {
        return Error{
            Fault::usage, command.file,
            fmt::format("the record has these already: {}", fmt::join(known.value(), ", ")),
            "give them other names in the record, or delete them there, or import into another record "
            "with --record"};
    }
    if (auto error = store.value().take_in(record.value())) return *std::move(error);
    std::size_t visits = 0;
    for (const InstrumentRecord& one : record.value().instruments)
        visits += one.visits.size();
    return Outcome{
        fmt::format("Taken in: {} instrument{}, {} visit{}\n", record.value().instruments.size(),
                    record.value().instruments.size() == 1 ? "" : "s", visits, visits == 1 ? "" : "s"),
        {}};
}

}  // namespace midspan::program
