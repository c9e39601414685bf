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
    auto& [taken_at, quantity, value, as_typed, string, method, note, removed_at] = measurement;
    archive("taken_at", taken_at);
    archive("quantity", quantity);
    archive("value_mm", value);
    archive("as_typed", as_typed);
    archive("string", string);
    archive("method", method);
    archive("note", note);
    archive("removed_at", removed_at);
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
    auto& [string, tuning, comparison, move, turns, inharmonicity, verdict, warnings, turns_uncertainty,
           turns_learned] = analysed;
    fields(archive, string);
    archive("tuning", tuning);
    archive("comparison", comparison);
    archive("move", move);
    archive("turns", turns);
    archive("turns_uncertainty", turns_uncertainty);
    archive("turns_learned", turns_learned);
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
    auto& [taken_at, source, analysis, removed_at] = reading;
    archive("taken_at", taken_at);
    archive("source", source);
    archive("analysis", analysis);
    archive("removed_at", removed_at);
}

void fields(auto& archive, Is<StringGauge> auto& string) {
    auto& [gauge, wound, core] = string;
    archive("gauge_mm", gauge);
    archive("wound", wound);
    archive("core_mm", core);
}

void fields(auto& archive, Is<StatedString> auto& string) {
    auto& [number, gauge, action, nut_height] = string;
    archive("string", number);
    archive("gauge", gauge);
    archive("action_mm", action);
    archive("nut_height_mm", nut_height);
}

void fields(auto& archive, Is<StatedNeck> auto& neck) {
    auto& [strings, relief] = neck;
    archive("strings", strings);
    archive("relief_mm", relief);
}

void fields(auto& archive, Is<FretWeight> auto& weight) {
    auto& [fret, value] = weight;
    archive("fret", fret);
    archive("weight", value);
}

void fields(auto& archive, Is<FretTarget> auto& target) {
    auto& [fret, cents] = target;
    archive("fret", fret);
    archive("target_cents", cents);
}

void fields(auto& archive, Is<KnownError> auto& known) {
    auto& [string, fret, error] = known;
    archive("string", string);
    archive("fret", fret);
    archive("error_cents", error);
}

void fields(auto& archive, Is<NeckSurveyOptions> auto& options) {
    auto& [frets, bridge, weights, targets, known, heights_known, relief_known, scatter] = options;
    archive("frets", frets);
    archive("bridge", bridge);
    archive("weights", weights);
    archive("targets", targets);
    archive("known", known);
    archive("heights_known", heights_known);
    archive("relief_known", relief_known);
    archive("fretting_scatter_cents", scatter);
}

void fields(auto& archive, Is<SurveyOptions> auto& options) {
    auto& [channel, reference, capo, stated, neck] = options;
    archive("channel", channel);
    archive("reference", reference);
    archive("capo", capo);
    archive("judged_by", stated);
    archive("neck", neck);
}

void fields(auto& archive, Is<ReferenceNote> auto& note) {
    auto& [string, from_open, plucks, frequency, off, uncertainty, inharmonicity] = note;
    archive("string", string);
    archive("from_open", from_open);
    archive("plucks", plucks);
    archive("frequency_hz", frequency);
    archive("off_cents", off);
    archive("uncertainty_cents", uncertainty);
    archive("inharmonicity", inharmonicity);
}

void fields(auto& archive, Is<SurveyedPluck> auto& pluck) {
    auto& [recording, start, string, fret, harmonic, used, level, reading, error, warnings] = pluck;
    archive("recording", recording);
    archive("at_s", start);
    archive("string", string);
    archive("fret", fret);
    archive("harmonic", harmonic);
    archive("used", used);
    archive("level_dbfs", level);
    archive("reading", reading);
    archive("error_cents", error);
    archive("warnings", warnings);
}

void fields(auto& archive, Is<Uncertain<Millimetres>> auto& length) {
    auto& [value, uncertainty] = length;
    archive("mm", value);
    archive("uncertainty_mm", uncertainty);
}

void fields(auto& archive, Is<Uncertain<Cents>> auto& cents) {
    auto& [value, uncertainty] = cents;
    archive("cents", value);
    archive("uncertainty_cents", uncertainty);
}

void fields(auto& archive, Is<SaddleAndNut> auto& both) {
    auto& [saddle, nut, correlation, too_high, left] = both;
    archive("saddle_toward_tail", saddle);
    archive("nut_toward_bridge", nut);
    archive("correlation", correlation);
    archive("nut_too_high", too_high);
    archive("left_cents", left);
}

void fields(auto& archive, Is<SurveyedStringFit> auto& fit) {
    auto& [string, alone, left_by_saddle, together, on_bridge, left_on_bridge, before, misfit] = fit;
    archive("string", string);
    archive("saddle_alone", alone);
    archive("left_by_saddle_cents", left_by_saddle);
    archive("together", together);
    archive("on_this_bridge_mm", on_bridge);
    archive("left_on_this_bridge_cents", left_on_bridge);
    archive("before_cents", before);
    archive("misfit_cents", misfit);
}

void fields(auto& archive, Is<SurveyedNote> auto& note) {
    auto& [string, fret, plucks, bent, error, after_saddle, after_both, fitted] = note;
    archive("string", string);
    archive("fret", fret);
    archive("plucks", plucks);
    archive("left_out", bent);
    archive("error", error);
    archive("after_saddle_cents", after_saddle);
    archive("after_saddle_and_nut_cents", after_both);
    archive("fitted_cents", fitted);
}

void fields(auto& archive, Is<SurveyedFret> auto& one) {
    auto& [fret, common, strings, before, after_saddle, after_both] = one;
    archive("fret", fret);
    archive("common", common);
    archive("strings", strings);
    archive("before_cents", before);
    archive("after_saddle_cents", after_saddle);
    archive("after_saddle_and_nut_cents", after_both);
}

void fields(auto& archive, Is<NeckNote> auto& note) {
    auto& [string, fret] = note;
    archive("string", string);
    archive("fret", fret);
}

void fields(auto& archive, Is<NamedCause> auto& named) {
    auto& [cause, string, fret] = named;
    archive("cause", cause);
    archive("string", string);
    archive("fret", fret);
}

void fields(auto& archive, Is<NeckFinding> auto& finding) {
    auto& [cause, length, effect, probability, rivals, deciding] = finding;
    fields(archive, cause);
    archive("length", length);
    archive("effect", effect);
    archive("probability", probability);
    archive("or", rivals);
    archive("deciding", deciding);
}

void fields(auto& archive, Is<Inseparable> auto& pair) {
    auto& [string, causes, deciding] = pair;
    archive("string", string);
    archive("cause", causes.first);
    archive("other_cause", causes.second);
    archive("deciding", deciding);
}

void fields(auto& archive, Is<DetectableSize> auto& detectable) {
    auto& [cause, all_strings, fret, size, with_three] = detectable;
    archive("cause", cause);
    archive("all_strings", all_strings);
    archive("fret", fret);
    archive("size_mm", size);
    archive("with_three_plucks_mm", with_three);
}

void fields(auto& archive, Is<NeckSurvey> auto& survey) {
    auto& [strings, notes, frets, findings, inseparable, detectable, bent, scatter, before, after_saddle,
           after_both] = survey;
    archive("strings", strings);
    archive("notes", notes);
    archive("frets", frets);
    archive("findings", findings);
    archive("not_separated", inseparable);
    archive("detectable", detectable);
    archive("left_out", bent);
    archive("scatter_cents", scatter);
    archive("before_cents", before);
    archive("after_saddle_cents", after_saddle);
    archive("after_saddle_and_nut_cents", after_both);
}

void fields(auto& archive, Is<NeckAnalysis> auto& analysis) {
    auto& [instrument, options, recordings, references, plucks, neck, warnings] = analysis;
    archive("instrument", instrument);
    archive("options", options);
    archive("recordings", recordings);
    archive("references", references);
    archive("plucks", plucks);
    archive("neck", neck);
    archive("warnings", warnings);
}

void fields(auto& archive, Is<NeckReading> auto& reading) {
    auto& [taken_at, source, analysis, removed_at] = reading;
    archive("taken_at", taken_at);
    archive("source", source);
    archive("analysis", analysis);
    archive("removed_at", removed_at);
}

void fields(auto& archive, Is<RecordedMove> auto& move) {
    auto& [made_at, string, toward_tail, turns, note, removed_at] = move;
    archive("made_at", made_at);
    archive("string", string);
    archive("toward_tail_mm", toward_tail);
    archive("turns", turns);
    archive("note", note);
    archive("removed_at", removed_at);
}

void fields(auto& archive, Is<Visit> auto& visit) {
    auto& [number, day, begun_at, ended_at, who, strings, fitted, strings_fitted_on, temperature, humidity,
           work_done, notes, measurements, readings, surveys, moves] = visit;
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
    archive("surveys", surveys);
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

inline FretTarget blank(Type<FretTarget> /*unused*/) { return {1, Cents{0.0}}; }
inline KnownError blank(Type<KnownError> /*unused*/) { return {1, 1, Cents{0.0}}; }
inline StringGauge blank(Type<StringGauge> /*unused*/) { return {Millimetres{0.0}, false, {}}; }
inline ReferenceNote blank(Type<ReferenceNote> /*unused*/) {
    return {1, false, 0, Hertz{0.0}, Cents{0.0}, Cents{0.0}, 0.0};
}
inline SurveyedPluck blank(Type<SurveyedPluck> /*unused*/) {
    return {0, Seconds{0.0}, {}, {}, false, false, Decibels{0.0}, {}, {}, {}};
}
template <class Unit>
Uncertain<Quantity<Unit>> blank(Type<Uncertain<Quantity<Unit>>> /*unused*/) {
    return {Quantity<Unit>{0.0}, Quantity<Unit>{0.0}};
}
inline SaddleAndNut blank(Type<SaddleAndNut> /*unused*/) {
    return {{Millimetres{0.0}, Millimetres{0.0}}, {Millimetres{0.0}, Millimetres{0.0}}, 0.0, {}, Cents{0.0}};
}
inline SurveyedStringFit blank(Type<SurveyedStringFit> /*unused*/) {
    return {1, {Millimetres{0.0}, Millimetres{0.0}}, Cents{0.0}, {}};
}
inline SurveyedNote blank(Type<SurveyedNote> /*unused*/) {
    return {1, 1, 0, 0, {Cents{0.0}, Cents{0.0}}, Cents{0.0}, Cents{0.0}, Cents{0.0}};
}
inline SurveyedFret blank(Type<SurveyedFret> /*unused*/) {
    return {1, {Cents{0.0}, Cents{0.0}}, 0, Cents{0.0}, Cents{0.0}, Cents{0.0}};
}
inline NeckFinding blank(Type<NeckFinding> /*unused*/) {
    return {{}, {}, {Cents{0.0}, Cents{0.0}}, 0.0, {}, {}};
}
inline DetectableSize blank(Type<DetectableSize> /*unused*/) {
    return {{}, false, {}, Millimetres{0.0}, Millimetres{0.0}};
}
inline NeckAnalysis blank(Type<NeckAnalysis> /*unused*/) {
    return {{{}, Hertz{0.0}, {}}, {}, {}, {}, {}, {}, {}};
}
inline NeckReading blank(Type<NeckReading> /*unused*/) { return {{}, {}, blank(Type<NeckAnalysis>{})}; }

}  // namespace midspan
