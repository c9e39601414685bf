// reading_log.cpp: which instrument a measurement is of, and its way into the record.
//
// Room: program. Edge: the disk.
#include "program/reading_log.hpp"

#include <fmt/format.h>

#include <filesystem>

#include "midspan/record/session_record.hpp"
#include "program/clock.hpp"
#include "program/measured_text.hpp"
#include "view/columns.hpp"

namespace midspan::program {
namespace {

/// What stands in the record under that name; nothing when it is none of the record's.
Result<std::optional<OnBench>> in_record(const std::string& name, const RecordUse& use) {
    using Found = std::optional<OnBench>;
    if (!record_is_there(use.file)) return Found{};
    auto store = opened_record(use.file);
    if (!store) return store.error();
    auto entry = store.value().instrument(name);
    if (!entry) {
        // To be no name of the record is no fault yet: it may be a file's.
        if (entry.error().fault == Fault::usage) return Found{};
        return entry.error();
    }
    OnBench bench{entry.value().instrument, entry.value()};
    const auto screws = store.value().learned_screws(name);
    if (!screws) return screws.error();
    bench.screws = known_screws(screws.value());
    if (!use.log) return Found{std::move(bench)};
    const auto visit = store.value().open_visit(name);
    if (!visit) return visit.error();
    bench.visit = visit.value();
    bench.store = std::move(store).value();
    return Found{std::move(bench)};
}

template <class Reading>
void log(OnBench& bench, const Reading& reading, bool json, Outcome& outcome) {
    if (!bench.store) return;
    const std::string name = fmt::format("'{}'", printable(bench.instrument.name));
    if (!bench.visit) {
        const std::string unwritten =
            fmt::format("no visit of {} is open; midspan visit begin begins one", name);
        if (json) {
            outcome.notice = "not recorded: " + unwritten;
        } else {
            outcome.text += fmt::format("\nNot recorded: {}.\n", unwritten);
        }
        return;
    }
    auto fault = bench.store->add(bench.instrument.name, *bench.visit, reading);
    if (fault) {
        outcome.error = std::move(fault);
    } else if (!json) {
        outcome.text += fmt::format("\nRecorded in visit {} of {}.\n", *bench.visit, name);
    }
}

}  // namespace

Result<OnBench> on_bench(const GivenInstrument& given, const RecordUse& use) {
    if (const auto* named = std::get_if<InstrumentFile>(&given)) {
        std::error_code ignored;
        const bool is_file = std::filesystem::exists(named->path, ignored);
        auto found = in_record(named->path, use);
        if (!found && !is_file) return found.error();
        if (found && found.value()) return *std::move(found).value();
    }
    auto instrument = instrument_of(given);
    if (!instrument) return instrument.error();
    return OnBench{std::move(instrument).value()};
}

void log_work(OnBench& bench, BenchWork work, bool json, Outcome& outcome) {
    std::erase_if(work.readings, [](const IntonationReading& reading) {
        return nothing_measured(reading.analysis).has_value();
    });
    if (work.readings.empty()) return;
    log(bench, work, json, outcome);
}

void log_survey(OnBench& bench, ReadingSource source, const NeckAnalysis& analysis, bool json,
                Outcome& outcome) {
    if (analysis.neck.notes.empty()) return;
    log(bench, NeckReading{now(), source, analysis}, json, outcome);
}

}  // namespace midspan::program
