// bench_phrases.hpp: what a session knows, in the words that line, voice and screen share.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>
#include <string_view>

#include "midspan/instrument/instrument.hpp"
#include "midspan/measurement/bench_event.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// "String 5, A2".
[[nodiscard]] std::string string_in_words(const Instrument& instrument, int string);

/// "open", "harmonic", "fretted 12th".
[[nodiscard]] std::string_view kind_in_words(NoteKind kind);

/// "Waiting for string 5, A2: harmonic".
[[nodiscard]] std::string awaited_in_words(const Awaited& awaited, const Instrument& instrument);

/// "clear, +2.31 ± 0.12 cents from its harmonic".
[[nodiscard]] std::string note_in_words(const FinishedNote& note, const Look& look);

/// "in tune", "tune it 3.1 cents up".
[[nodiscard]] std::string tuning_in_words(const TuningHeard& tuning);

/// "+6.4 ± 0.2 cents, move 2.39 mm toward the tail".
[[nodiscard]] std::string result_in_words(const StringResult& result, const Look& look);

/// "1.1 mm toward the tail".
[[nodiscard]] std::string plain_move(Millimetres toward_tail, const Look& look);

/// "2 1/4 turns clockwise"; "about" where the thread is a guess.
[[nodiscard]] std::string turns_of(const StringResult& result, const Instrument& instrument);

/// What came of a move, and what to do.
[[nodiscard]] std::string screw_in_words(const ScrewLearned& screw);

/// "input too loud: -3 dB, good is -45 to -6 dB".
[[nodiscard]] std::string level_in_words(const LevelHeard& level);

}  // namespace midspan
