// bench_events.hpp: what happens at the bench, a line each, for people and for programs.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>

#include "midspan/instrument/instrument.hpp"
#include "midspan/measurement/bench_event.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// What a person reads where no screen can be drawn on: the time, then the event in words, one line with its
/// newline. Empty for what only a screen shows: a reading of a note that still rings, a level that is good.
[[nodiscard]] std::string bench_event_line(const BenchEvent& event, const Instrument& instrument,
                                           const Look& look);

/// What is worth saying aloud: a result, what is refused, what to do next. Empty for all else. No symbols.
[[nodiscard]] std::string bench_event_spoken(const BenchEvent& event, const Instrument& instrument,
                                             const Look& look);

/// The event as one JSON object on one line (JSON Lines), with its newline. Numbers keep full precision, what
/// is not known or not finite is null, every uncertainty is a standard uncertainty (k = 1).
///
/// All of them have "schema": "midspan/event/1", "event" and "at_s", the seconds since the session began;
/// then
///
///     awaited   string (null: any), kind, after_move
///     reading   string, kind, frequency_hz, uncertainty_cents, off_cents, age_s      while the note rings
///     note      string, kind, round, number, frequency_hz, uncertainty_cents, off_cents, quality,
///     level_dbfs,
///               warnings
///     refused   string (null: not known), reason, message
///     tuning    string, off_cents, uncertainty_cents, from ("open" or "harmonic")
///     result    string, round, pairs, error_cents, uncertainty_cents, verdict, move_mm, move_uncertainty_mm,
///               direction, turns, turns_uncertainty, turns_from ("guess", "thread", "moves"), warnings
///     round     string, round
///     screw     string, outcome, cents_per_turn, uncertainty_cents, turns, before_cents, after_cents
///     level     level_dbfs, band ("too_quiet", "good", "too_loud"), lowest_good_dbfs, highest_good_dbfs
///     end
///
/// off_cents is from the string's note for open and harmonic, and from its harmonic for fretted.
[[nodiscard]] std::string bench_event_json(const BenchEvent& event);

}  // namespace midspan
