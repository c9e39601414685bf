// bench_phrases.cpp: what a session knows, in the words that line, voice and screen share.
//
// Room: view. Pure.
#include "view/bench_phrases.hpp"

#include <fmt/format.h>

#include <cassert>
#include <cmath>

#include "view/figures.hpp"
#include "view/move_words.hpp"
#include "view/names.hpp"

namespace midspan {
namespace {

std::string cents(Uncertain<Cents> value, const Look& look) {
    return with_uncertainty(value.value.value(), 2.0 * value.uncertainty.value(), plus_minus(look),
                            Sign::always) +
           " cents";
}

constexpr Cents as_good_as_in_tune{0.5};

}  // namespace

std::string string_in_words(const Instrument& instrument, int string) {
    return fmt::format("String {}, {}", string, instrument.string(string).open_note.text());
}

std::string_view kind_in_words(NoteKind kind) {
    return kind == NoteKind::fretted ? "fretted 12th" : note_kind_name(kind);
}

std::string awaited_in_words(const Awaited& awaited, const Instrument& instrument) {
    if (!awaited.string) return fmt::format("Waiting for any string: {}", kind_in_words(awaited.kind));
    const std::string string =
        fmt::format("string {}, {}", *awaited.string, instrument.string(*awaited.string).open_note.text());
    if (awaited.after_move)
        return fmt::format("Turn the screw, tune {}, then pluck its {}", string, kind_in_words(awaited.kind));
    return fmt::format("Waiting for {}: {}", string, kind_in_words(awaited.kind));
}

std::string note_in_words(const FinishedNote& note, const Look& look) {
    std::string words = fmt::format("{}, {} from its {}", note_quality_name(note.quality),
                                    cents({note.off, note.uncertainty}, look),
                                    note.kind == NoteKind::fretted ? "harmonic" : "note");
    for (const WarningCode code : note.warnings) {
        words += fmt::format(", {}", reason_in_words(code));
    }
    return words;
}

std::string tuning_in_words(const TuningHeard& tuning) {
    if (magnitude(tuning.off) < as_good_as_in_tune) return "in tune";
    return fmt::format("tune it {} cents {}", rounded(magnitude(tuning.off).value(), 1),
                       tuning.off > Cents{0.0} ? "down" : "up");
}

std::string result_in_words(const StringResult& result, const Look& look) {
    const std::string error = cents(result.error, look);
    switch (result.verdict) {
        case Verdict::in_tolerance:
            return error + ", good enough";
        case Verdict::move:
            return fmt::format("{}, move {}", error, plain_move(result.move.toward_tail, look));
        case Verdict::measure_again:
            return error + (result.pairs < 2 ? ", one more pair" : ", more pairs are wanted");
    }
    assert(false);
    return {};
}

std::string plain_move(Millimetres toward_tail, const Look& look) {
    const Millimetres distance = magnitude(toward_tail);
    const std::string length = look.unit == LengthUnit::inches
                                   ? fmt::format("{} in", rounded(distance / millimetres_per_inch, 3))
                                   : fmt::format("{} mm", rounded(distance.value(), 1));
    return length + ' ' + direction_in_words(toward_tail);
}

std::string turns_of(const StringResult& result, const Instrument& instrument) {
    const std::string turns = screw_in_words(result.turns.value, instrument.string(result.string).saddle);
    return result.turns_from == TurnsFrom::guess ? "about " + turns : turns;
}

std::string screw_in_words(const ScrewLearned& screw) {
    switch (screw.outcome) {
        case MoveOutcome::as_expected:
            return fmt::format("one turn of its screw is {} cents",
                               rounded(screw.cents_per_turn.value.value(), 1));
        case MoveOutcome::did_not_move:
            return "nothing changed: the saddle sticks, or the screw was not turned";
        case MoveOutcome::wrong_way:
            return "the error grew: the screw was turned the wrong way";
        case MoveOutcome::missing_retune:
            return "twice the expected change: tune the string back to pitch and pluck it again";
        case MoveOutcome::unclear:
            return "the move was too small to learn the screw from";
    }
    assert(false);
    return {};
}

std::string level_in_words(const LevelHeard& level) {
    const std::string_view what = level.band == InputLevel::good        ? "good"
                                  : level.band == InputLevel::too_quiet ? "too quiet"
                                                                        : "too loud";
    return fmt::format("Input {}: {:.0f} dB, good is {:.0f} to {:.0f} dB", what, level.level.value(),
                       lowest_good_level.value(), highest_good_level.value());
}

}  // namespace midspan
