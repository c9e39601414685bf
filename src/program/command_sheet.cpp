// command_sheet.cpp: which instrument, which visit, and where the page goes.
//
// Room: program. Edge: the disk.
#include "program/command_sheet.hpp"

#include <algorithm>

#include "midspan/record/record_store.hpp"
#include "midspan/view/setup_sheet.hpp"
#include "program/text_file.hpp"

namespace midspan::program {
namespace {

Result<std::string> instrument_meant(RecordStore& store, const WriteSheet& command) {
    if (command.instrument) return *command.instrument;
    const auto all = store.instruments();
    if (!all) return all.error();
    if (all.value().size() == 1) return all.value().front().entry.instrument.name;
    if (all.value().empty()) {
        return Error{Fault::usage, store.path(), "holds no instrument",
                     "add one first: midspan instrument add --help"};
    }
    return Error{Fault::usage, "sheet", "the record holds several instruments",
                 "name one: midspan sheet '" + all.value().front().entry.instrument.name + "'"};
}

Result<int> visit_meant(RecordStore& store, const std::string& instrument, const WriteSheet& command) {
    if (command.visit) return *command.visit;
    const auto all = store.visits(instrument);
    if (!all) return all.error();
    const auto last = std::ranges::max_element(all.value(), {}, &ListedVisit::number);
    if (last != all.value().end()) return last->number;
    return Error{Fault::usage, instrument, "has no visit yet", "begin one: midspan visit begin --help"};
}

}  // namespace

Result<Outcome> run(const WriteSheet& command) {
    auto store = opened_record(command.record);
    if (!store) return store.error();
    const auto name = instrument_meant(store.value(), command);
    if (!name) return name.error();
    const auto entry = store.value().instrument(name.value());
    if (!entry) return entry.error();
    const auto number = visit_meant(store.value(), name.value(), command);
    if (!number) return number.error();
    const auto whole = store.value().visit(name.value(), number.value());
    if (!whole) return whole.error();
    const Visit visit = as_it_stands(whole.value());

    std::string text = command.pictures_alone ? setup_pictures(entry.value(), visit, command.unit)
                                              : setup_sheet(entry.value(), visit, command.unit);
    if (command.output == "-") return Outcome{std::move(text), {}};
    if (auto error = write_text(command.output, text)) return *std::move(error);
    return Outcome{};
}

}  // namespace midspan::program
