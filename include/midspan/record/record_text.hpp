// record_text.hpp: the setup record as text that other programs read, and back.
//
// Room: record. Pure. May include: ground to measurement.
#pragma once

#include <string>
#include <string_view>

#include "midspan/record/setup_record.hpp"
#include "midspan/result.hpp"

namespace midspan {

/// Everything in `record` as one indented JSON object with a newline behind it, schema midspan/record/1:
/// tools/schemas/record-1.schema.json describes every key.
///
/// Nothing is lost: parse_record() gives the same values back, every number to its last bit. All numbers are
/// finite. Bytes that are no UTF-8 become U+FFFD.
[[nodiscard]] std::string record_json(const SetupRecord& record);

/// The record that such a text holds; `file_name` is only for messages.
///
/// A text that is no JSON, has another schema, lacks a key, has one too many, or holds what cannot be so (a
/// measurement at string 7 of six, two instruments of one name) is a Fault::input that names the place.
[[nodiscard]] Result<SetupRecord> parse_record(std::string_view json, std::string_view file_name);

/// One row a string and reading of every instrument that is not deleted, with a row of names above them.
/// RFC 4180: commas, lines end with CR LF, quotes where needed. What is not known is an empty field.
[[nodiscard]] std::string readings_csv(const SetupRecord& record);

/// One row a measurement of bench and ruler, likewise.
[[nodiscard]] std::string measurements_csv(const SetupRecord& record);

/// One row a note of every survey, likewise.
[[nodiscard]] std::string surveys_csv(const SetupRecord& record);

}  // namespace midspan
