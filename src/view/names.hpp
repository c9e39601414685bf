// names.hpp: enumerators as `--json` and the bench table spell them.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string_view>

#include "midspan/measurement/analysis.hpp"

namespace midspan {

/// As `--json` spells it.
[[nodiscard]] std::string_view note_kind_name(NoteKind kind);

/// The way the saddle has to go: `none` unless a move is advised.
[[nodiscard]] std::string_view direction_name(const AnalysedString& string);

[[nodiscard]] std::string_view verdict_in_words(Verdict verdict);

/// Why a string carries a warning, in a few words.
[[nodiscard]] std::string_view reason_in_words(WarningCode code);

}  // namespace midspan
