// record_store.cpp: opens the file, and makes every write one transaction.
//
// Room: record. Edge: the disk.
#include "midspan/record/record_store.hpp"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Transaction.h>
#include <fmt/format.h>
#include <sqlite3.h>
#include <unistd.h>

#include <cassert>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <thread>

#include "instrument/typed_text.hpp"
#include "record/record_store_fault.hpp"
#include "record/record_store_rows.hpp"
#include "record/record_store_schema.hpp"
#include "record/record_store_values.hpp"

namespace midspan {
namespace {

namespace fs = std::filesystem;
using SQLite::TransactionBehavior;

std::string variable(const char* name) {
    const char* value = std::getenv(name);
    return value != nullptr ? value : "";
}

std::optional<Error> make_folder_of(const std::string& path) {
    const fs::path folder = fs::path{path}.parent_path();
    std::error_code failed;
    if (folder.empty() || fs::is_directory(folder, failed)) return std::nullopt;
    fs::create_directories(folder, failed);
    if (!failed) return std::nullopt;
    return Error{Fault::record, path, fmt::format("its folder cannot be made: {}", failed.message()),
                 "make the folder, or name another file with --record FILE"};
}

/// What no midspan can write: the file, or only read it?
bool only_to_read(const std::string& path) { return fs::exists(path) && ::access(path.c_str(), W_OK) != 0; }

/// On a disk that cannot be written SQLite cannot coordinate with writers, but there are none.
std::string unchanging(const std::string& path) {
    std::string uri = "file:";
    for (const char c : fs::absolute(path).string()) {
        if (c == '?' || c == '#' || c == '%') {
            uri += fmt::format("%{:02x}", static_cast<unsigned char>(c));
        } else {
            uri += c;
        }
    }
    return uri + "?immutable=1";
}

SQLite::Database opened(const std::string& path) {
    if (only_to_read(path)) {
        if (!fs::exists(path + "-wal")) return {unchanging(path), SQLite::OPEN_READONLY | SQLite::OPEN_URI};
        return {path, SQLite::OPEN_READONLY};
    }
    return {path, SQLite::OPEN_READWRITE | SQLite::OPEN_CREATE};
}

/// To change to WAL nobody else may look at the file, and SQLite does not wait for that by itself.
void use_write_ahead_log(SQLite::Database& database, Seconds patience) {
    const auto end = std::chrono::steady_clock::now() + std::chrono::duration<double>{patience.value()};
    for (;;) {
        try {
            database.exec("PRAGMA journal_mode = WAL");
            return;
        } catch (const SQLite::Exception& exception) {
            if (exception.getErrorCode() != SQLITE_BUSY || std::chrono::steady_clock::now() >= end) {
                throw;
            }
        }
        std::this_thread::sleep_for(std::chrono::milliseconds{10});
    }
}

}  // namespace

Result<std::string> record_path(const std::optional<std::string>& given) {
    if (given && !given->empty()) return *given;
    if (const std::string named = variable("MIDSPAN_RECORD"); !named.empty()) return named;
    std::string folder = variable("XDG_DATA_HOME");
    // A relative path there is to be ignored, says the specification.
    if (!folder.starts_with('/')) {
        folder = variable("HOME");
        if (!folder.starts_with('/')) {
            return Error{Fault::record, "the setup record", "there is no home folder for it",
                         "name a file with --record FILE or in $MIDSPAN_RECORD"};
        }
        folder += "/.local/share";
    }
    return folder + "/midspan/record.sqlite";
}

class RecordStore::Work {
public:
    Work(std::string path, Seconds patience) : path{std::move(path)}, database{opened(this->path)} {
        database.setBusyTimeout(static_cast<int>(1000.0 * patience.value()));
        database.exec("PRAGMA foreign_keys = ON; PRAGMA synchronous = FULL; PRAGMA cell_size_check = ON");
    }

    /// What `work` gives, or what went wrong.
    template <class Value, class Doing>
    Result<Value> guarded(const Doing& work) {
        try {
            return work();
        } catch (const SQLite::Exception& exception) {
            return record_fault(path, exception);
        } catch (const UnsoundRow&) {
            return damaged(path);
        } catch (const fs::filesystem_error& error) {
            return Error{Fault::record, path, error.code().message(), "check the folder it is in"};
        }
    }

    /// Looks at one state of the record, whoever writes meanwhile.
    template <class Value, class Doing>
    Result<Value> reading(const Doing& work) {
        return guarded<Value>([&]() -> Result<Value> {
            const SQLite::Transaction transaction{database, TransactionBehavior::DEFERRED};
            return work();
        });
    }

    /// Changes the record by all of `work`, which may refuse.
    template <class Doing>
    std::optional<Error> writing(const Doing& work) {
        const auto result = guarded<std::optional<Error>>([&]() -> Result<std::optional<Error>> {
            SQLite::Transaction transaction{database, TransactionBehavior::IMMEDIATE};
            if (std::optional<Error> refusal = work()) return refusal;
            transaction.commit();
            return std::optional<Error>{};
        });
        return result ? result.value() : result.error();
    }

    Result<std::int64_t> instrument(const std::string& name) {
        Filling query{database, "SELECT id FROM instrument WHERE name = ? AND deleted_at IS NULL"};
        query << name;
        if (query.next_row()) return Row{query}.take<std::int64_t>();
        return Error{Fault::usage, midspan::quoted(name), fmt::format("no such instrument in {}", path),
                     "midspan instrument list shows them, midspan instrument add adds one"};
    }

    Result<std::int64_t> visit(const std::string& name, int number) {
        const auto owner = instrument(name);
        if (!owner) return owner.error();
        Filling query{database, "SELECT id FROM visit WHERE instrument_id = ? AND number = ?"};
        query << owner.value() << number;
        if (query.next_row()) return Row{query}.take<std::int64_t>();
        return Error{Fault::usage, midspan::quoted(name), fmt::format("has no visit {}", number),
                     "midspan visit list shows its visits"};
    }

    std::vector<std::int64_t> ids(const std::string& sql, std::optional<std::int64_t> owner) {
        Filling query{database, sql};
        if (owner) query << *owner;
        std::vector<std::int64_t> found;
        while (query.next_row())
            found.push_back(Row{query}.take<std::int64_t>());
        return found;
    }

    InstrumentRecord whole(std::int64_t id) {
        InstrumentRecord record{entry_of(database, id), screws_of(database, id), {}};
        for (const std::int64_t visit :
             ids("SELECT id FROM visit WHERE instrument_id = ? ORDER BY number", id))
            record.visits.push_back(visit_of(database, visit));
        return record;
    }

    std::optional<Error> refusal_of_name(const std::string& name, std::int64_t besides) {
        Filling query{database, "SELECT 1 FROM instrument WHERE name = ? AND deleted_at IS NULL AND id <> ?"};
        query << name << besides;
        if (!query.next_row()) return std::nullopt;
        return Error{Fault::usage, midspan::quoted(name), "is in the record already",
                     "give another name, or rename that one: midspan instrument change NAME --name NEW"};
    }

    /// Writes one row that belongs to a visit.
    template <class Value>
    std::optional<Error> add_to_visit(const std::string& name, int number, const Value& value,
                                      void (*insert)(SQLite::Database&, std::int64_t, const Value&)) {
        return writing([&]() -> std::optional<Error> {
            const auto id = visit(name, number);
            if (!id) return id.error();
            insert(database, id.value(), value);
            return std::nullopt;
        });
    }

    /// Removes an item of a visit, or restores it; refuses what is so already.
    std::optional<Error> mark_removed(const std::string& name, int number_of_visit, VisitItem item,
                                      int number, const std::optional<Moment>& removed_at) {
        return writing([&]() -> std::optional<Error> {
            const auto id = visit(name, number_of_visit);
            if (!id) return id.error();
            const std::string table{name_of(item)};
            Filling query{database, "SELECT id, removed_at FROM " + table +
                                        " WHERE visit_id = ? ORDER BY id LIMIT 1 OFFSET ?"};
            query << id.value() << number - 1;
            const auto refusal = [&](std::string_view problem) {
                return Error{Fault::usage, fmt::format("{} {}", table, number), std::string{problem},
                             "midspan visit show numbers what is in it"};
            };
            if (number < 1 || !query.next_row()) {
                return refusal(
                    fmt::format("visit {} of '{}' has none of that number", number_of_visit, name));
            }
            Row row{query};
            const auto found = row.take<std::int64_t>();
            const bool is_removed = row.take<std::optional<Moment>>().has_value();
            if (is_removed && removed_at) return refusal("is removed already");
            if (!is_removed && !removed_at) return refusal("was not removed");
            (Filling{database, "UPDATE " + table + " SET removed_at = ? WHERE id = ?"} << removed_at << found)
                .run();
            return std::nullopt;
        });
    }

    std::string path;
    SQLite::Database database;
};

RecordStore::RecordStore(std::unique_ptr<Work> work) : work_{std::move(work)} {}
RecordStore::~RecordStore() = default;
RecordStore::RecordStore(RecordStore&&) noexcept = default;
RecordStore& RecordStore::operator=(RecordStore&&) noexcept = default;

Result<RecordStore> RecordStore::open(const std::string& path, Seconds patience) {
    std::error_code ignored;
    if (fs::is_directory(path, ignored)) return no_setup_record(path);
    if (auto fault = make_folder_of(path)) return *std::move(fault);
    try {
        auto work = std::make_unique<Work>(path, patience);
        if (auto fault = migrate(work->database, path, record_migrations())) return *std::move(fault);
        if (!only_to_read(path)) use_write_ahead_log(work->database, patience);
        return RecordStore{std::move(work)};
    } catch (const SQLite::Exception& exception) {
        return record_fault(path, exception);
    } catch (const fs::filesystem_error& error) {
        return Error{Fault::record, path,
                     fmt::format("no copy can be laid beside it: {}", error.code().message()),
                     "make room in its folder; the record is as it was"};
    }
}

const std::string& RecordStore::path() const { return work_->path; }

Result<std::vector<ListedInstrument>> RecordStore::instruments() {
    using List = std::vector<ListedInstrument>;
    return work_->reading<List>([&]() -> Result<List> {
        Filling query{
            work_->database,
            "SELECT instrument.id, count(visit.id), max(visit.day), max(CASE WHEN visit.ended_at IS "
            "NULL THEN visit.number END) FROM instrument LEFT JOIN visit ON visit.instrument_id = "
            "instrument.id WHERE deleted_at IS NULL GROUP BY instrument.id ORDER BY name COLLATE "
            "NOCASE, name"};
        List list;
        while (query.next_row()) {
            Row row{query};
            const auto id = row.take<std::int64_t>();
            list.push_back({entry_of(work_->database, id), row.take<int>(), row.take<std::optional<Day>>(),
                            row.take<std::optional<int>>()});
        }
        return list;
    });
}

Result<std::vector<InstrumentEntry>> RecordStore::deleted_instruments() {
    using List = std::vector<InstrumentEntry>;
    return work_->reading<List>([&]() -> Result<List> {
        List list;
        for (const auto id : work_->ids("SELECT id FROM instrument WHERE deleted_at IS NOT NULL ORDER BY "
                                        "deleted_at, id",
                                        std::nullopt)) {
            list.push_back(entry_of(work_->database, id));
        }
        return list;
    });
}

Result<InstrumentEntry> RecordStore::instrument(const std::string& name) {
    return work_->reading<InstrumentEntry>([&]() -> Result<InstrumentEntry> {
        const auto id = work_->instrument(name);
        if (!id) return id.error();
        return entry_of(work_->database, id.value());
    });
}

std::optional<Error> RecordStore::add(const InstrumentEntry& entry) {
    return work_->writing([&]() -> std::optional<Error> {
        if (auto refusal = work_->refusal_of_name(entry.instrument.name, 0)) return refusal;
        static_cast<void>(insert_entry(work_->database, entry));
        return std::nullopt;
    });
}

std::optional<Error> RecordStore::change(const std::string& name, const InstrumentEntry& entry) {
    return work_->writing([&]() -> std::optional<Error> {
        const auto id = work_->instrument(name);
        if (!id) return id.error();
        if (auto refusal = work_->refusal_of_name(entry.instrument.name, id.value())) return refusal;
        forget_other_screws(work_->database, id.value(), entry);
        update_entry(work_->database, id.value(), entry);
        return std::nullopt;
    });
}

std::optional<Error> RecordStore::remove(const std::string& name, const Moment& now) {
    return work_->writing([&]() -> std::optional<Error> {
        const auto id = work_->instrument(name);
        if (!id) return id.error();
        (Filling{work_->database, "UPDATE instrument SET deleted_at = ? WHERE id = ?"} << now << id.value())
            .run();
        return std::nullopt;
    });
}

std::optional<Error> RecordStore::restore(const std::string& name) {
    return work_->writing([&]() -> std::optional<Error> {
        Filling query{work_->database,
                      "SELECT id FROM instrument WHERE name = ? AND deleted_at IS NOT NULL "
                      "ORDER BY deleted_at DESC, id DESC LIMIT 1"};
        query << name;
        if (!query.next_row()) {
            return Error{Fault::usage, midspan::quoted(name), "no such instrument was deleted",
                         "midspan instrument list --deleted shows those that can be restored"};
        }
        const auto id = Row{query}.take<std::int64_t>();
        if (auto refusal = work_->refusal_of_name(name, id)) return refusal;
        (Filling{work_->database, "UPDATE instrument SET deleted_at = NULL WHERE id = ?"} << id).run();
        return std::nullopt;
    });
}

Result<int> RecordStore::begin_visit(const std::string& instrument, const Visit& visit) {
    assert(visit.measurements.empty() && visit.readings.empty() && visit.surveys.empty() &&
           visit.moves.empty());
    int number = 0;
    auto fault = work_->writing([&]() -> std::optional<Error> {
        const auto id = work_->instrument(instrument);
        if (!id) return id.error();
        Filling open{work_->database,
                     "SELECT number FROM visit WHERE instrument_id = ? AND ended_at IS NULL"};
        open << id.value();
        if (open.next_row()) {
            return Error{Fault::usage, midspan::quoted(instrument),
                         fmt::format("visit {} is still open", Row{open}.take<int>()),
                         "go on with it, or end it first: midspan visit end"};
        }
        Filling last{work_->database, "SELECT coalesce(max(number), 0) FROM visit WHERE instrument_id = ?"};
        last << id.value();
        last.next_row();
        Visit numbered = visit;
        numbered.number = Row{last}.take<int>() + 1;
        static_cast<void>(insert_visit(work_->database, id.value(), numbered));
        number = numbered.number;
        return std::nullopt;
    });
    if (fault) return *std::move(fault);
    return number;
}

Result<std::optional<int>> RecordStore::open_visit(const std::string& instrument) {
    using Number = std::optional<int>;
    return work_->reading<Number>([&]() -> Result<Number> {
        const auto id = work_->instrument(instrument);
        if (!id) return id.error();
        Filling query{work_->database,
                      "SELECT number FROM visit WHERE instrument_id = ? AND ended_at IS NULL"};
        query << id.value();
        return query.next_row() ? Number{Row{query}.take<int>()} : Number{};
    });
}

Result<std::vector<ListedVisit>> RecordStore::visits(const std::string& instrument) {
    using List = std::vector<ListedVisit>;
    return work_->reading<List>([&]() -> Result<List> {
        const auto id = work_->instrument(instrument);
        if (!id) return id.error();
        Filling query{
            work_->database,
            "SELECT number, day, ended_at IS NULL, who, work_done, (SELECT count(*) FROM measurement "
            "WHERE visit_id = visit.id AND removed_at IS NULL), (SELECT count(*) FROM reading WHERE visit_id "
            "= visit.id AND removed_at IS NULL), (SELECT count(*) FROM survey WHERE visit_id = visit.id AND "
            "removed_at IS NULL) "
            "FROM visit WHERE instrument_id = ? ORDER BY number"};
        query << id.value();
        List list;
        while (query.next_row()) {
            Row row{query};
            list.push_back({row.take<int>(), row.take<Day>(), row.take<bool>(), row.take<std::string>(),
                            row.take<std::string>(), row.take<int>(), row.take<int>(), row.take<int>()});
        }
        return list;
    });
}

Result<Visit> RecordStore::visit(const std::string& instrument, int number) {
    return work_->reading<Visit>([&]() -> Result<Visit> {
        const auto id = work_->visit(instrument, number);
        if (!id) return id.error();
        return visit_of(work_->database, id.value());
    });
}

std::optional<Error> RecordStore::change_visit(const std::string& instrument, const Visit& visit) {
    return work_->writing([&]() -> std::optional<Error> {
        const auto id = work_->visit(instrument, visit.number);
        if (!id) return id.error();
        update_visit(work_->database, id.value(), visit);
        return std::nullopt;
    });
}

std::optional<Error> RecordStore::add(const std::string& instrument, int visit,
                                      const BenchMeasurement& measurement) {
    return work_->add_to_visit(instrument, visit, measurement, insert_measurement);
}

std::optional<Error> RecordStore::add(const std::string& instrument, int visit, const BenchWork& work) {
    return work_->writing([&]() -> std::optional<Error> {
        const auto owner = work_->instrument(instrument);
        if (!owner) return owner.error();
        const auto id = work_->visit(instrument, visit);
        if (!id) return id.error();
        for (const IntonationReading& reading : work.readings)
            insert_reading(work_->database, id.value(), reading);
        for (const RecordedMove& move : work.moves)
            insert_move(work_->database, id.value(), move);
        for (const LearnedScrew& screw : work.screws)
            insert_screw(work_->database, owner.value(), screw);
        return std::nullopt;
    });
}

std::optional<Error> RecordStore::add(const std::string& instrument, int visit, const NeckReading& survey) {
    return work_->add_to_visit(instrument, visit, survey, insert_survey);
}

std::optional<Error> RecordStore::add(const std::string& instrument, int visit, const RecordedMove& move) {
    return work_->add_to_visit(instrument, visit, move, insert_move);
}

Result<std::vector<LearnedScrew>> RecordStore::learned_screws(const std::string& instrument) {
    using List = std::vector<LearnedScrew>;
    return work_->reading<List>([&]() -> Result<List> {
        const auto id = work_->instrument(instrument);
        if (!id) return id.error();
        return screws_of(work_->database, id.value());
    });
}

std::optional<Error> RecordStore::remove(const std::string& instrument, int visit, VisitItem item, int number,
                                         const Moment& now) {
    return work_->mark_removed(instrument, visit, item, number, now);
}

std::optional<Error> RecordStore::restore(const std::string& instrument, int visit, VisitItem item,
                                          int number) {
    return work_->mark_removed(instrument, visit, item, number, std::nullopt);
}

Result<std::vector<PastReading>> RecordStore::history(const std::string& instrument, int string) {
    using List = std::vector<PastReading>;
    return work_->reading<List>([&]() -> Result<List> {
        const auto id = work_->instrument(instrument);
        if (!id) return id.error();
        return readings_of_string(work_->database, id.value(), string);
    });
}

Result<SetupRecord> RecordStore::whole() {
    return work_->reading<SetupRecord>([&]() -> Result<SetupRecord> {
        SetupRecord record;
        for (const auto id : work_->ids("SELECT id FROM instrument ORDER BY id", std::nullopt))
            record.instruments.push_back(work_->whole(id));
        return record;
    });
}

Result<InstrumentRecord> RecordStore::whole(const std::string& instrument) {
    return work_->reading<InstrumentRecord>([&]() -> Result<InstrumentRecord> {
        const auto id = work_->instrument(instrument);
        if (!id) return id.error();
        return work_->whole(id.value());
    });
}

std::optional<Error> RecordStore::take_in(const SetupRecord& record) {
    return work_->writing([&]() -> std::optional<Error> {
        for (const InstrumentRecord& each : record.instruments) {
            if (!each.entry.deleted_at) {
                if (auto refusal = work_->refusal_of_name(each.entry.instrument.name, 0)) return refusal;
            }
            const auto id = insert_entry(work_->database, each.entry);
            for (const LearnedScrew& screw : each.screws)
                insert_screw(work_->database, id, screw);
            for (const Visit& visit : each.visits)
                static_cast<void>(insert_visit(work_->database, id, visit));
        }
        return std::nullopt;
    });
}

}  // namespace midspan
