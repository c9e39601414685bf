// record_store_fault.cpp: one remedy for each thing that can happen to a file.
//
// Room: record. Edge: the disk.
#include "record/record_store_fault.hpp"

#include <fmt/format.h>
#include <sqlite3.h>

namespace midspan {

Error no_setup_record(const std::string& path) {
    return {Fault::record, path, "is no setup record", "name another file with --record FILE"};
}

Error damaged(const std::string& path) {
    return {Fault::record, path, "is damaged",
            fmt::format(
                "leave it as it is, go on with your last copy of it (--record COPY), and save what can be "
                "read of it as text: sqlite3 '{}' .dump >saved.sql",
                path)};
}

Error record_fault(const std::string& path, const SQLite::Exception& exception) {
    const auto error = [&path](std::string problem, std::string remedy) {
        return Error{Fault::record, path, std::move(problem), std::move(remedy)};
    };
    constexpr int primary = 0xff;
    switch (exception.getErrorCode() & primary) {
        case SQLITE_BUSY:
        case SQLITE_LOCKED:
            return error("another program is writing to it and does not end",
                         "wait for it or end it, then run this again");
        case SQLITE_READONLY:
        case SQLITE_PERM:
        case SQLITE_AUTH:
            return error("cannot be written, only read",
                         "make the file and its folder writable, or name another with --record FILE");
        case SQLITE_FULL:
            return error("the disk is full",
                         "make room and run this again; what was recorded before is safe");
        case SQLITE_CORRUPT:
            return damaged(path);
        case SQLITE_NOTADB:
            return no_setup_record(path);
        case SQLITE_CANTOPEN:
            return error("cannot be opened",
                         "make the file and its folder readable and writable, or name another with --record "
                         "FILE");
        case SQLITE_IOERR:
            return error(fmt::format("the disk does not take or give it ({})", exception.getErrorStr()),
                         "check room and health of the disk and run this again; what was recorded before is "
                         "safe");
        default:
            return error(exception.what(),
                         "run this again; if it stays, save the file and name another with "
                         "--record FILE");
    }
}

}  // namespace midspan
