// bench_event.hpp: what happens at the bench, as values.
//
// Room: measurement. Pure. May include: ground, instrument, notes, pitch, comparison, advice.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "midspan/advice/bridge_response.hpp"
#include "midspan/measurement/analysis.hpp"

namespace midspan {

/// Why a pluck does not count. Spelled as in `--json`.
enum class Refusal {
    no_pitch,        ///< something was plucked, but no string rang
    wrong_note,      ///< a note of no string, or at another fret than the 12th
    ambiguous,       ///< two strings can make it, and nothing tells which did
    off_pitch,       ///< more than 60 cents off: its octave means nothing before it is tuned
    wrong_kind,      ///< of a pair the sound says that it was not harmonic, then fretted
    talked_over,     ///< another sound fell into it before its pitch was known
    too_quiet,       ///< hardly stands out of the noise
    overload,        ///< too loud for the input
    not_finite,      ///< samples that are no numbers
    samples_lost,    ///< a part of it never arrived
    left_alone,      ///< a harmonic whose fretted note never came
    undone,          ///< the player took it back
    restarted,       ///< the player began this string anew
    earlier_tuning,  ///< an open note from before the string was tuned
    earlier_round,   ///< from before the saddle was moved
};
[[nodiscard]] std::string_view refusal_name(Refusal refusal);

/// How far a finished note can be trusted: its standard uncertainty is at most 0.15 cent, at most 0.5, more.
enum class NoteQuality { clear, fair, unsteady };
[[nodiscard]] std::string_view note_quality_name(NoteQuality quality);
[[nodiscard]] NoteQuality note_quality(Cents uncertainty);

/// How loud a pluck came in, by its loudest 10 ms. Good is -45 to -6 dB RMS against full scale (common
/// practice, no source).
enum class InputLevel { too_quiet, good, too_loud };
inline constexpr Decibels lowest_good_level{-45.0};
inline constexpr Decibels highest_good_level{-6.0};
[[nodiscard]] std::string_view input_level_name(InputLevel level);
[[nodiscard]] InputLevel input_level(Decibels level);

/// What the session waits for; a string only once one was plucked.
struct Awaited {
    std::optional<int> string;
    NoteKind kind = NoteKind::harmonic;
    bool after_move = false;  ///< turn the screw and tune the string first

    friend bool operator==(const Awaited&, const Awaited&) = default;
};

/// A reading of a note that still rings; said once, when its uncertainty has fallen below 1.5 cents, and
/// again when it suffices for a verdict (0.15 cent: plus or minus 0.3).
struct RingingReading {
    int string;
    NoteKind kind;
    Hertz frequency;
    Cents uncertainty;
    Cents off;    ///< open, harmonic: from the string's note; fretted: from its harmonic
    Seconds age;  ///< since the pluck
};

struct FinishedNote {
    int string;
    NoteKind kind;
    int round;   ///< 1 is the first
    int number;  ///< of its kind in this round, 1 is the first
    Hertz frequency;
    Cents uncertainty;
    Cents off;  ///< as in RingingReading
    NoteQuality quality;
    Decibels level;
    std::vector<WarningCode> warnings;
};

struct RefusedNote {
    std::optional<int> string;
    Refusal reason;
    std::string message;  ///< what happened and what to do, in plain words
};

/// How far the open string is from its note.
struct TuningHeard {
    int string;
    Cents off;  ///< positive: sharp, tune it down
    Cents uncertainty;
    bool from_open;  ///< false: worked out from the harmonic
};

/// Where the turns of a move come from.
enum class TurnsFrom {
    guess,   ///< the thread is not known: of the screws that are found on saddles, an average one
    thread,  ///< the thread pitch
    moves,   ///< what this screw did when it was turned before
};
[[nodiscard]] std::string_view turns_from_name(TurnsFrom from);

/// What is known of a string after a pair of notes. A verdict is given from two pairs on.
struct StringResult {
    int string;
    int round;
    int pairs;
    Uncertain<Cents> error;
    Verdict verdict;
    SaddleMove move;
    Uncertain<Turns> turns;  ///< positive toward the tail
    TurnsFrom turns_from;
    std::vector<WarningCode> warnings;
};

/// A string is measured anew after a move; the earlier rounds stay in BenchState.
struct RoundBegan {
    int string;
    int round;
};

struct ScrewLearned {
    int string;
    MoveOutcome outcome;
    Uncertain<Cents> cents_per_turn;  ///< as far as it is known now
    Turns advised;
    Cents before;
    Cents after;
};

struct LevelHeard {
    Decibels level;
    InputLevel band;
};

/// The session is over; BenchSession::analysis() is the result.
struct SessionEnded {};

struct BenchEvent {
    Seconds at;  ///< since the session began, counted in frames
    std::variant<Awaited, RingingReading, FinishedNote, RefusedNote, TuningHeard, StringResult, RoundBegan,
                 ScrewLearned, LevelHeard, SessionEnded>
        what;
};

enum class StringStage {
    untouched,  ///< nothing measured yet
    measuring,  ///< more plucks are wanted
    to_move,    ///< a move has been stated
    done,       ///< good enough
};

/// One string as the session knows it.
struct BenchString {
    int number;
    StringStage stage = StringStage::untouched;
    int round = 1;
    int harmonics = 0;  ///< of this round
    int fretted = 0;
    std::optional<TuningHeard> tuning;
    std::optional<StringResult> result;                ///< of this round
    std::vector<StringResult> earlier_rounds;          ///< the last result of each, the first round first
    std::vector<std::optional<MoveOutcome>> outcomes;  ///< of the move behind each; nothing: not known yet
    std::optional<ScrewLearned> screw;
};

/// All a screen needs.
struct BenchState {
    Seconds now{0.0};
    std::optional<int> current;  ///< the string in question
    Awaited awaited;
    std::vector<BenchString> strings;  ///< string 1 first
    std::optional<RingingReading> ringing;
    std::optional<FinishedNote> last_note;  ///< one of the two at most: what the last pluck became
    std::optional<RefusedNote> last_refusal;
    std::optional<LevelHeard> level;
    bool ended = false;
};

}  // namespace midspan
