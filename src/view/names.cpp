// names.cpp: the words for what was found.
//
// Room: view. Pure.
#include "view/names.hpp"

#include <cassert>

namespace midspan {

std::string_view note_kind_name(NoteKind kind) {
    switch (kind) {
        case NoteKind::open:
            return "open";
        case NoteKind::harmonic:
            return "harmonic";
        case NoteKind::fretted:
            return "fretted";
    }
    assert(false);
    return {};
}

std::string_view direction_name(const AnalysedString& string) {
    if (string.verdict != Verdict::move || !string.move) return "none";
    return string.move->toward_tail > Millimetres{0.0} ? "toward_tail" : "toward_nut";
}

std::string_view verdict_in_words(Verdict verdict) {
    switch (verdict) {
        case Verdict::in_tolerance:
            return "good enough";
        case Verdict::move:
            return "move";
        case Verdict::measure_again:
            return "measure again";
    }
    assert(false);
    return {};
}

std::string_view reason_in_words(WarningCode code) {
    switch (code) {
        case WarningCode::clipped:
            return "a note overloaded the input";
        case WarningCode::too_quiet:
            return "a note hardly above the noise";
        case WarningCode::not_finite:
            return "samples that are no numbers";
        case WarningCode::truncated:
            return "the recording breaks off";
        case WarningCode::dead_channel:
            return "a channel carries no string";
        case WarningCode::samples_lost:
            return "sound lost on the way in";
        case WarningCode::converting_device:
            return "an input that converts";
        case WarningCode::dead_note:
            return "a pluck that did not ring";
        case WarningCode::too_short:
            return "a note too short to measure";
        case WarningCode::cut_off:
            return "a note cut off by the next";
        case WarningCode::disturbed:
            return "another sound in a note";
        case WarningCode::unknown_note:
            return "a note of no string";
        case WarningCode::ambiguous_string:
            return "may be another string's notes";
        case WarningCode::not_settled:
            return "a note that did not settle";
        case WarningCode::beating:
            return "a note that beats";
        case WarningCode::string_suspect:
            return "the string itself is suspect";
        case WarningCode::out_of_tune:
            return "far out of tune";
        case WarningCode::no_plucks:
            return "not heard";
        case WarningCode::only_harmonics:
            return "no fretted note heard";
        case WarningCode::only_fretted:
            return "no harmonic heard";
        case WarningCode::only_open:
            return "only the open string heard";
        case WarningCode::unpaired:
            return "a note was left over";
        case WarningCode::single_pair:
            return "one pair only";
        case WarningCode::order_contradicted:
            return "harmonic and fretted look swapped";
        case WarningCode::kinds_alike:
            return "all sound like harmonics";
        case WarningCode::scattered:
            return "repeated plucks disagree";
        case WarningCode::uncertain:
            return "too uncertain to decide";
        case WarningCode::large_error:
            return "too far off for a saddle";
        case WarningCode::travel_exceeded:
            return "more than the travel left";
    }
    assert(false);
    return {};
}

}  // namespace midspan
