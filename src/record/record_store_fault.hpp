// record_store_fault.hpp: what SQLite complains of, told with the file and the remedy.
//
// Room: record, private. Edge: the disk. May include: ground.
#pragma once

#include <SQLiteCpp/Exception.h>

#include <string>

#include "midspan/result.hpp"

namespace midspan {

[[nodiscard]] Error no_setup_record(const std::string& path);
[[nodiscard]] Error damaged(const std::string& path);
[[nodiscard]] Error record_fault(const std::string& path, const SQLite::Exception& exception);

}  // namespace midspan
