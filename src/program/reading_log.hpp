// reading_log.hpp: which instrument a measurement is of, and its way into the record.
//
// Room: program. Edge: the disk. May include: everything.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "midspan/measurement/analysis.hpp"
#include "midspan/measurement/survey.hpp"
#include "midspan/record/record_store.hpp"
#include "midspan/result.hpp"
#include "program/given_instrument.hpp"
#include "program/opened_record.hpp"
#include "program/outcome.hpp"

namespace midspan::program {

/// What --record and --no-record said.
struct RecordUse {
    RecordFile file{};
    bool log = true;
};

/// The instrument on the bench and, where it is in the record, the visit its readings go to.
struct OnBench {
    Instrument instrument;
    std::optional<InstrumentEntry> entry{};  ///< what the record says of it, if it is there
    std::optional<RecordStore> store{};      ///< nothing: it is not in the record, or that is left alone
    std::optional<int> visit{};              ///< the open one
    std::vector<KnownScrew> screws{};        ///< what the record knows of them
};

/// The instrument that is meant. A name is looked for in the record, if there is one, and else among the
/// files.
[[nodiscard]] Result<OnBench> on_bench(const GivenInstrument& given, const RecordUse& use);

/// Writes what was measured to the open visit of an instrument that is in the record and says so behind the
/// text; without an open visit it says that, beside the text when that is for programs. A reading without a
/// note that could be used is not written. The text stays whatever happens: a record that fails is the error
/// told beside it.
void log_work(OnBench& bench, BenchWork work, bool json, Outcome& outcome);

/// The same with a survey that heard a fretted note.
void log_survey(OnBench& bench, ReadingSource source, const NeckAnalysis& analysis, bool json,
                Outcome& outcome);

}  // namespace midspan::program
