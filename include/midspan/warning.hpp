// warning.hpp: what makes a number less than trustworthy, by name.
//
// Room: ground. Pure.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>

#include "midspan/units.hpp"

namespace midspan {

/// Spelled exactly as in `--json`. The README explains every one of them to the user.
enum class WarningCode {
    // the sound
    clipped,            ///< the note overloaded the input
    too_quiet,          ///< the note hardly stands out of the noise
    not_finite,         ///< the recording holds samples that are no numbers
    truncated,          ///< the file ends before its header says it does
    dead_channel,       ///< a channel carries no string
    samples_lost,       ///< sound was lost between the device and midspan
    converting_device,  ///< the input converts the sound and may bend its pitch
    // the note
    dead_note,         ///< something was plucked, but no string rang
    too_short,         ///< the note was stopped before its pitch could be known
    cut_off,           ///< the next pluck came while the note was still wanted
    disturbed,         ///< something else sounded into the note
    unknown_note,      ///< a clear note that belongs to no string of the tuning
    ambiguous_string,  ///< a note two strings can make, and nothing tells which
    not_settled,       ///< the pitch still glides and the note is too short to tell where to
    beating,           ///< two planes of the string beat against each other
    string_suspect,    ///< the partials do not fit a string
    // the string
    out_of_tune,         ///< more than 60 cents off its open note
    no_plucks,           ///< nothing of this string was heard
    only_harmonics,      ///< no fretted note to compare with
    only_fretted,        ///< one kind of note alone, and it looks fretted
    only_open,           ///< open strings alone
    unpaired,            ///< a note was left over
    single_pair,         ///< one pair says nothing about how repeatable the fretting is
    order_contradicted,  ///< the sound says harmonic where the order says fretted, or the reverse
    kinds_alike,         ///< every note sounds like a harmonic, a little: were any fretted?
    scattered,           ///< repeated plucks disagree by more than their uncertainty
    uncertain,           ///< the uncertainty is too large for the tolerance
    large_error,         ///< more than 100 cents: not a matter for the saddle
    // the bridge
    travel_exceeded,  ///< the move is longer than the travel that is left
};

/// The code as `--json` spells it.
[[nodiscard]] std::string_view code_name(WarningCode code);

/// Every code there is, in the order above.
[[nodiscard]] std::span<const WarningCode> all_warning_codes();

struct Warning {
    WarningCode code;
    std::optional<Seconds> at;     ///< since the start of the recording
    std::optional<int> string;     ///< as the trade numbers them: 1 is the highest-pitched
    std::optional<int> recording;  ///< index into Analysis::recordings
    std::string message;           ///< what happened and what to do, in plain words
};

}  // namespace midspan
