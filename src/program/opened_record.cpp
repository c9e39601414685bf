// opened_record.cpp: the setup record a command works on, and the visit that is meant.
//
// Room: program. Edge: the disk, the screen.
#include "program/opened_record.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <cstdio>
#include <filesystem>
#include <iostream>

#include "view/columns.hpp"

namespace midspan::program {

Result<RecordStore> opened_record(const RecordFile& file) {
    const auto path = record_path(file);
    if (!path) return path.error();
    return RecordStore::open(path.value());
}

bool record_is_there(const RecordFile& file) {
    const auto path = record_path(file);
    std::error_code ignored;
    return path && std::filesystem::exists(path.value(), ignored);
}

Result<MeantVisit> open_visit_of(RecordStore& store, const std::optional<std::string>& instrument) {
    if (instrument) {
        const auto number = store.open_visit(*instrument);
        if (!number) return number.error();
        if (number.value()) return MeantVisit{*instrument, *number.value()};
        return Error{Fault::usage, fmt::format("'{}'", printable(*instrument)), "has no open visit",
                     "begin one: midspan visit begin --instrument NAME"};
    }
    const auto list = store.instruments();
    if (!list) return list.error();
    std::optional<MeantVisit> found;
    for (const ListedInstrument& each : list.value()) {
        if (!each.open_visit) continue;
        if (found) {
            return Error{Fault::usage, "--instrument", "more than one visit is open",
                         "say which is meant: --instrument NAME"};
        }
        found = MeantVisit{each.entry.instrument.name, *each.open_visit};
    }
    if (found) return *found;
    return Error{Fault::usage, "visit", "none is open", "begin one: midspan visit begin --instrument NAME"};
}

std::optional<Error> confirmed(std::string_view subject, std::string_view question) {
    const Error refusal{Fault::usage, printable(subject), std::string{question},
                        "check it; if it is meant so, add --yes"};
    if (isatty(STDIN_FILENO) != 1 || isatty(STDERR_FILENO) != 1) return refusal;
    std::cerr << "midspan: " << printable(subject) << ": " << question << "; go on? [y/N] " << std::flush;
    std::string answer;
    std::getline(std::cin, answer);
    if (answer == "y" || answer == "Y" || answer == "yes") return std::nullopt;
    return Error{Fault::usage, printable(subject), "not confirmed", "nothing was changed"};
}

}  // namespace midspan::program
