// record_store.hpp: the setup record on disk, one SQLite file.
//
// Room: record. Edge: the disk. May include: ground to measurement.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "midspan/record/record_lists.hpp"
#include "midspan/record/setup_record.hpp"
#include "midspan/result.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// Where the record is: `given`, else $MIDSPAN_RECORD, else midspan/record.sqlite in the user's data folder
/// ($XDG_DATA_HOME, or ~/.local/share; XDG Base Directory Specification 0.8).
[[nodiscard]] Result<std::string> record_path(const std::optional<std::string>& given);

/// The record in a file, made on first use together with its folder.
///
/// Every write is one transaction and on the disk when the call returns: a process killed, a disk full or a
/// power failure at any moment leaves all of it or none. Several programs may have the file open; a writer
/// waits up to `patience` for another one. What goes wrong is a Fault::record that names the file and the
/// remedy; a name or a number that is not in the record is a Fault::usage. Not for several threads at once.
///
/// Instruments are meant by their name, among those that are not deleted.
class RecordStore {
public:
    /// An older record is brought up to date, after a copy of it was laid beside it. A file that cannot be
    /// written is opened to be read.
    [[nodiscard]] static Result<RecordStore> open(const std::string& path, Seconds patience = Seconds{5.0});
    ~RecordStore();
    RecordStore(RecordStore&&) noexcept;
    RecordStore& operator=(RecordStore&&) noexcept;

    [[nodiscard]] const std::string& path() const;

    /// By name.
    [[nodiscard]] Result<std::vector<ListedInstrument>> instruments();
    /// Those that can be restored.
    [[nodiscard]] Result<std::vector<InstrumentEntry>> deleted_instruments();
    [[nodiscard]] Result<InstrumentEntry> instrument(const std::string& name);
    [[nodiscard]] std::optional<Error> add(const InstrumentEntry& entry);
    /// Puts `entry` in the place of the instrument `name`; visits stay, and say what was true then. What was
    /// learned of a screw is forgotten where its thread pitch or scale length is another now.
    [[nodiscard]] std::optional<Error> change(const std::string& name, const InstrumentEntry& entry);
    [[nodiscard]] std::optional<Error> remove(const std::string& name, const Moment& now);
    /// Brings back the one of that name that was deleted last.
    [[nodiscard]] std::optional<Error> restore(const std::string& name);

    /// Begins a visit, `visit.number` being given by the store; its lists have to be empty. One visit of an
    /// instrument can be open at a time.
    [[nodiscard]] Result<int> begin_visit(const std::string& instrument, const Visit& visit);
    /// The number of the open visit, if there is one.
    [[nodiscard]] Result<std::optional<int>> open_visit(const std::string& instrument);
    [[nodiscard]] Result<std::vector<ListedVisit>> visits(const std::string& instrument);
    [[nodiscard]] Result<Visit> visit(const std::string& instrument, int number);
    /// Replaces what is said about the visit; measurements, readings, surveys and moves stay.
    [[nodiscard]] std::optional<Error> change_visit(const std::string& instrument, const Visit& visit);

    [[nodiscard]] std::optional<Error> add(const std::string& instrument, int visit,
                                           const BenchMeasurement& measurement);
    [[nodiscard]] std::optional<Error> add(const std::string& instrument, int visit, const BenchWork& work);
    [[nodiscard]] std::optional<Error> add(const std::string& instrument, int visit,
                                           const NeckReading& survey);
    [[nodiscard]] std::optional<Error> add(const std::string& instrument, int visit,
                                           const RecordedMove& move);

    /// Takes something out of a visit; visit() and the whole record go on to tell it, with removed_at.
    [[nodiscard]] std::optional<Error> remove(const std::string& instrument, int visit, VisitItem item,
                                              int number, const Moment& now);
    /// Puts back what was removed.
    [[nodiscard]] std::optional<Error> restore(const std::string& instrument, int visit, VisitItem item,
                                               int number);

    [[nodiscard]] Result<std::vector<LearnedScrew>> learned_screws(const std::string& instrument);

    /// Every reading of one string, the first one first.
    [[nodiscard]] Result<std::vector<PastReading>> history(const std::string& instrument, int string);

    /// Everything, deleted instruments too.
    [[nodiscard]] Result<SetupRecord> whole();
    [[nodiscard]] Result<InstrumentRecord> whole(const std::string& instrument);
    /// Takes in what was exported, all of it or nothing. A name that is in the record already is refused.
    [[nodiscard]] std::optional<Error> take_in(const SetupRecord& record);

private:
    class Work;
    explicit RecordStore(std::unique_ptr<Work> work);
    std::unique_ptr<Work> work_;
};

}  // namespace midspan
