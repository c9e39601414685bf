// neck_words.hpp: the findings of a survey, in words.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "midspan/measurement/survey.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// "string 3's saddle", "fret 9 on all strings", "the nut's height": what a cause is, without its size.
[[nodiscard]] std::string cause_in_words(const NamedCause& cause, int capo);

/// A finding with its size and what to do about it; "either ... or" while it has rivals.
[[nodiscard]] std::string finding_in_words(const NeckFinding& finding, int capo, const Look& look);

/// Every finding, what to mend first standing first; empty when nothing stands out.
[[nodiscard]] std::vector<std::string> findings_in_words(const NeckAnalysis& analysis, const Look& look);

/// What else there is to say: what could not be separated, what was left out, what the neck is judged by, and
/// what these plucks could not have shown.
[[nodiscard]] std::vector<std::string> remarks_in_words(const NeckAnalysis& analysis, const Look& look);

/// "fret 2 and fret 17 of string 3".
[[nodiscard]] std::string notes_in_words(std::span<const NeckNote> notes);

/// Which strings and heights the findings are judged by, and which of them are only usual ones.
[[nodiscard]] std::string stated_in_words(const StatedNeck& neck, const Look& look);

/// "0.40 +- 0.12 mm": unsigned, with two standard uncertainties.
[[nodiscard]] std::string length_in_words(Uncertain<Millimetres> length, const Look& look);

/// Whether any pluck of a note counts.
[[nodiscard]] bool counts(const NeckSurvey& survey, const NeckNote& note);

/// The strings a map of the neck shows, string 1 first: those of which a note counts or was left out.
[[nodiscard]] std::vector<InstrumentString> strings_on_map(const NeckAnalysis& analysis);

}  // namespace midspan
