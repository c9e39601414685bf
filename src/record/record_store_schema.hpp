// record_store_schema.hpp: the tables of the setup record, and how older ones become today's.
//
// Room: record, private. Edge: the disk. May include: ground.
#pragma once

#include <SQLiteCpp/Database.h>

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "midspan/result.hpp"

namespace midspan {

/// One script a version; script n turns version n - 1 into n. Version 0 is an empty file. A script that
/// has shipped is never changed.
[[nodiscard]] std::span<const std::string_view> record_migrations();

/// Brings `database`, which is the file `path`, to the last version. Before a record is touched its pages
/// are checked and a copy of it is laid beside it: record.sqlite.version-1. All scripts are one transaction.
/// An Error: the file is something else, is damaged, or comes from a newer midspan. May throw
/// SQLite::Exception.
[[nodiscard]] std::optional<Error> migrate(SQLite::Database& database, const std::string& path,
                                           std::span<const std::string_view> migrations);

}  // namespace midspan
