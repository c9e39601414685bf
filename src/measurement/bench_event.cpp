// bench_event.cpp: the names of what happens at the bench.
//
// Room: measurement. Pure. May include: ground, instrument to advice.
#include "midspan/measurement/bench_event.hpp"

#include <cassert>

namespace midspan {

std::string_view refusal_name(Refusal refusal) {
    switch (refusal) {
        case Refusal::no_pitch:
            return "no_pitch";
        case Refusal::wrong_note:
            return "wrong_note";
        case Refusal::ambiguous:
            return "ambiguous";
        case Refusal::off_pitch:
            return "off_pitch";
        case Refusal::wrong_kind:
            return "wrong_kind";
        case Refusal::talked_over:
            return "talked_over";
        case Refusal::too_quiet:
            return "too_quiet";
        case Refusal::overload:
            return "overload";
        case Refusal::not_finite:
            return "not_finite";
        case Refusal::samples_lost:
            return "samples_lost";
        case Refusal::left_alone:
            return "left_alone";
        case Refusal::undone:
            return "undone";
        case Refusal::restarted:
            return "restarted";
        case Refusal::earlier_tuning:
            return "earlier_tuning";
        case Refusal::earlier_round:
            return "earlier_round";
    }
    assert(false);
    return {};
}

std::string_view note_quality_name(NoteQuality quality) {
    switch (quality) {
        case NoteQuality::clear:
            return "clear";
        case NoteQuality::fair:
            return "fair";
        case NoteQuality::unsteady:
            return "unsteady";
    }
    assert(false);
    return {};
}

NoteQuality note_quality(Cents uncertainty) {
    if (uncertainty <= Cents{0.15}) return NoteQuality::clear;
    return uncertainty <= Cents{0.5} ? NoteQuality::fair : NoteQuality::unsteady;
}

std::string_view input_level_name(InputLevel level) {
    switch (level) {
        case InputLevel::too_quiet:
            return "too_quiet";
        case InputLevel::good:
            return "good";
        case InputLevel::too_loud:
            return "too_loud";
    }
    assert(false);
    return {};
}

InputLevel input_level(Decibels level) {
    if (level < lowest_good_level) return InputLevel::too_quiet;
    return level > highest_good_level ? InputLevel::too_loud : InputLevel::good;
}

std::string_view turns_from_name(TurnsFrom from) {
    switch (from) {
        case TurnsFrom::guess:
            return "guess";
        case TurnsFrom::thread:
            return "thread";
        case TurnsFrom::moves:
            return "moves";
    }
    assert(false);
    return {};
}

}  // namespace midspan
