// record_fields.hpp: every value of the record by name, told once for writing and for reading.
//
// Room: record. Pure. May include: ground to measurement.
#pragma once

#include <concepts>
#include <type_traits>

#include "midspan/record/setup_record.hpp"

namespace midspan {

/// T, or T that may only be read.
template <class V, class T>
concept Is = std::same_as<std::remove_const_t<V>, T>;

// The bindings stop the compiler when a member is added that is not named here. `archive` is called with a
// name and a value, in the order in which they are written.

void fields(auto& archive, Is<Saddle> auto& saddle) {
    auto& [pitch, clockwise, to_nut, to_tail] = saddle;
    archive("thread_pitch_mm", pitch);
    archive("clockwise_is_toward_tail", clockwise);
    archive("travel_toward_nut_mm", to_nut);
    archive("travel_toward_tail_mm", to_tail);
}

void fields(auto& archive, Is<InstrumentString> auto& string) {
    auto& [number, open_note, open_frequency, scale_length, saddle] = string;
    archive("string", number);
    archive("open_note", open_note);
    archive("open_frequency_hz", open_frequency);
    archive("scale_length_mm", scale_length);
    archive("saddle", saddle);
}

void fields(auto& archive, Is<Instrument> auto& instrument) {
    auto& [name, a4, strings, left_handed] = instrument;
    archive("name", name);
    archive("a4_hz", a4);
    archive("strings", strings);
    archive("left_handed", left_handed);
}

void fields(auto& archive, Is<FittedString> auto& string) {
    auto& [gauge, winding, core] = string;
    archive("gauge_mm", gauge);
    archive("winding", winding);
    archive("core_mm", core);
}

void fields(auto& archive, Is<InstrumentEntry> auto& entry) {
    auto& [instrument, kind, strings, fitted, frets, radius, bridge, notes, added_at, deleted_at] = entry;
    fields(archive, instrument);
    archive("kind", kind);
    archive("string_set", strings);
    archive("fitted", fitted);
    archive("frets", frets);
    archive("fingerboard_radius_mm", radius);
    archive("bridge", bridge);
    archive("notes", notes);
    archive("added_at", added_at);
    archive("deleted_at", deleted_at);
}

void fields(auto& archive, Is<BenchMethod> auto& method) {
    auto& [held, last_fret_held, capo, read_at, pickup, tool] = method;
    archive("held", held);
    archive("last_fret_held", last_fret_held);
    archive("capo", capo);
    archive("read_at", read_at);
    archive("pickup", pickup);
    archive("tool", tool);
}

void fields(auto& archive, Is<BenchMeasurement> auto& measurement) {
    auto& [taken_at, quantity, value, as_typed, string, method, note] = measurement;
    archive("taken_at", taken_at);
    archive("quantity", quantity);
    archive("value_mm", value);
    archive("as_typed", as_typed);
    archive("string", string);
    archive("method", method);
    archive("note", note);
}

void fields(auto& archive, Is<PitchReading> auto& reading) {
    auto& [frequency, uncertainty, inharmonicity, inharmonicity_uncertainty, glide, glide_time, partials,
           span, signal_to_noise, odd_partials, odd_partials_floor, not_settled, beating, string_suspect] =
        reading;
    archive("frequency_hz", frequency);
    archive("uncertainty_cents", uncertainty);
    archive("inharmonicity", inharmonicity);
    archive("inharmonicity_uncertainty", inharmonicity_uncertainty);
    archive("glide_cents", glide);
    archive("glide_time_s", glide_time);
    archive("partials", partials);
    archive("span_s", span);
    archive("snr_db", signal_to_noise);
    archive("odd_partials_db", odd_partials);
    archive("odd_partials_floor_db", odd_partials_floor);
    archive("not_settled", not_settled);
    archive("beating", beating);
    archive("string_suspect", string_suspect);
}

void fields(auto& archive, Is<AnalysedRecording> auto& recording) {
    auto& [path, sample_rate, channels, channel_used, channel_chosen_by_user, duration] = recording;
    archive("path", path);
    archive("sample_rate_hz", sample_rate);
    archive("channels", channels);
    archive("channel_used", channel_used);
    archive("channel_chosen_by_user", channel_chosen_by_user);
    archive("duration_s", duration);
}

void fields(auto& archive, Is<AnalysedPluck> auto& pluck) {
    auto& [recording, start, string, kind, used, level, reading, warnings] = pluck;
    archive("recording", recording);
    archive("at_s", start);
    archive("string", string);
    archive("kind", kind);
    archive("used", used);
    archive("level_dbfs", level);
    archive("reading", reading);
    archive("warnings", warnings);
}

void fields(auto& archive, Is<TuningCheck> auto& tuning) {
    auto& [frequency, off, from_open] = tuning;
    archive("frequency_hz", frequency);
    archive("off_cents", off);
    archive("from_open", from_open);
}

void fields(auto& archive, Is<OctaveComparison> auto& comparison) {
    auto& [harmonic, fretted, harmonic_uncertainty, fretted_uncertainty, harmonics, fretted_notes, error,
           scatter, scattered] = comparison;
    archive("harmonic_hz", harmonic.value);
    archive("harmonic_uncertainty_hz", harmonic.uncertainty);
    archive("fretted_hz", fretted.value);
    archive("fretted_uncertainty_hz", fretted.uncertainty);
    archive("harmonic_uncertainty_cents", harmonic_uncertainty);
    archive("fretted_uncertainty_cents", fretted_uncertainty);
    archive("harmonics", harmonics);
    archive("fretted_notes", fretted_notes);
    archive("error_cents", error.value);
    archive("uncertainty_cents", error.uncertainty);
    archive("scatter_cents", scatter);
    archive("scattered", scattered);
}

void fields(auto& archive, Is<SaddleMove> auto& move) {
    auto& [toward_tail, uncertainty] = move;
    archive("toward_tail_mm", toward_tail);
    archive("uncertainty_mm", uncertainty);
}

void fields(auto& archive, Is<AnalysedString> auto& analysed) {
    auto& [string, tuning, comparison, move, turns, inharmonicity, verdict, warnings] = analysed;
    fields(archive, string);
    archive("tuning", tuning);
    archive("comparison", comparison);
    archive("move", move);
    archive("turns", turns);
    archive("inharmonicity", inharmonicity);
    archive("verdict", verdict);
    archive("warnings", warnings);
}

void fields(auto& archive, Is<Warning> auto& warning) {
    auto& [code, at, string, recording, message] = warning;
    archive("code", code);
    archive("at_s", at);
    archive("string", string);
    archive("recording", recording);
    archive("message", message);
}

void fields(auto& archive, Is<Analysis> auto& analysis) {
    auto& [tolerance, a4, recordings, strings, plucks, warnings] = analysis;
    archive("tolerance_cents", tolerance);
    archive("a4_hz", a4);
    archive("recordings", recordings);
    archive("strings", strings);
    archive("plucks", plucks);
    archive("warnings", warnings);
}

void fields(auto& archive, Is<IntonationReading> auto& reading) {
    auto& [taken_at, source, analysis] = reading;
    archive("taken_at", taken_at);
    archive("source", source);
    archive("analysis", analysis);
}

void fields(auto& archive, Is<RecordedMove> auto& move) {
    auto& [made_at, string, toward_tail, turns, note] = move;
    archive("made_at", made_at);
    archive("string", string);
    archive("toward_tail_mm", toward_tail);
    archive("turns", turns);
    archive("note", note);
}

void fields(auto& archive, Is<Visit> auto& visit) {
    auto& [number, day, begun_at, ended_at, who, strings, fitted, strings_fitted_on, temperature, humidity,
           work_done, notes, measurements, readings, moves] = visit;
    archive("number", number);
    archive("day", day);
    archive("begun_at", begun_at);
    archive("ended_at", ended_at);
    archive("who", who);
    archive("string_set", strings);
    archive("fitted", fitted);
    archive("strings_fitted_on", strings_fitted_on);
    archive("temperature_c", temperature);
    archive("humidity_percent", humidity);
    archive("work_done", work_done);
    archive("notes", notes);
    archive("measurements", measurements);
    archive("readings", readings);
    archive("moves", moves);
}

void fields(auto& archive, Is<LearnedScrew> auto& screw) {
    auto& [string, cents_per_turn, uncertainty, moves, learned_at] = screw;
    archive("string", string);
    archive("cents_per_turn", cents_per_turn);
    archive("uncertainty_cents_per_turn", uncertainty);
    archive("moves", moves);
    archive("learned_at", learned_at);
}

void fields(auto& archive, Is<InstrumentRecord> auto& record) {
    auto& [entry, screws, visits] = record;
    fields(archive, entry);
    archive("screws", screws);
    archive("visits", visits);
}

void fields(auto& archive, Is<SetupRecord> auto& record) {
    auto& [instruments] = record;
    archive("instruments", instruments);
}

// Values to be filled in; what has no value of its own to begin with gets one here.

template <class T>
struct Type {};

template <class T>
T blank(Type<T> /*unused*/) {
    return T{};
}
template <class Unit>
Quantity<Unit> blank(Type<Quantity<Unit>> /*unused*/) {
    return Quantity<Unit>{0.0};
}
inline NoteName blank(Type<NoteName> /*unused*/) { return NoteName::parse("A4").value(); }
inline InstrumentString blank(Type<InstrumentString> /*unused*/) {
    return {1, blank(Type<NoteName>{}), Hertz{0.0}, Millimetres{0.0}, {}};
}
inline InstrumentRecord blank(Type<InstrumentRecord> /*unused*/) {
    return {{{{}, Hertz{0.0}, {}}, {}, {}, {}, {}, {}, {}, {}, {}, {}}, {}, {}};
}
inline BenchMeasurement blank(Type<BenchMeasurement> /*unused*/) {
    return {{}, {}, Millimetres{0.0}, {}, {}, {}, {}};
}
inline AnalysedRecording blank(Type<AnalysedRecording> /*unused*/) {
    return {{}, Hertz{0.0}, 1, 1, false, Seconds{0.0}};
}
inline AnalysedPluck blank(Type<AnalysedPluck> /*unused*/) {
    return {0, Seconds{0.0}, {}, {}, false, Decibels{0.0}, {}, {}};
}
inline TuningCheck blank(Type<TuningCheck> /*unused*/) { return {Hertz{0.0}, Cents{0.0}, false}; }
inline OctaveComparison blank(Type<OctaveComparison> /*unused*/) {
    return {{Hertz{0.0}, Hertz{0.0}},
            {Hertz{0.0}, Hertz{0.0}},
            Cents{0.0},
            Cents{0.0},
            0,
            0,
            {Cents{0.0}, Cents{0.0}},
            Cents{0.0},
            false};
}
inline SaddleMove blank(Type<SaddleMove> /*unused*/) { return {Millimetres{0.0}, Millimetres{0.0}}; }
inline AnalysedString blank(Type<AnalysedString> /*unused*/) {
    return {blank(Type<InstrumentString>{}), {}, {}, {}, {}, {}, {}, {}};
}
inline LearnedScrew blank(Type<LearnedScrew> /*unused*/) {
    return {1, CentsPerTurn{0.0}, CentsPerTurn{0.0}, 0, {}};
}

}  // namespace midspan
