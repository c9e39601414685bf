// neck_survey.hpp: errors along the whole neck, taken apart into saddle, nut, frets and strings.
//
// Room: comparison. Pure. May include: ground, instrument.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "midspan/uncertain.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// How the saddles of a bridge hang together.
enum class SaddleSharing {
    individual,    ///< each string has its own
    shared_pairs,  ///< strings 1 and 2 share one, 3 and 4, and so on
    one_piece,     ///< one straight piece that can be set at both ends
};

/// How a string resists being pressed down, of a make and heights that somebody stated.
struct StringStretch {
    double stiffness_to_tension;  ///< EA / T
    Millimetres nut_height;       ///< of the string over the line of the fret tops, at its ends
    Millimetres saddle_height;
};

/// One string of the survey.
struct SurveyedString {
    int number;            ///< 1 is the highest-pitched
    Hertz open_frequency;  ///< nominal
    Millimetres scale_length;
    /// Standard uncertainty of the note all its errors are measured from: it shifts them all alike.
    Cents reference_uncertainty{0.2};
    /// Nothing: as strings of such pitch and scale usually are.
    std::optional<StringStretch> stretch{};
};

/// One pluck of a fretted note.
struct NeckObservation {
    int string;
    int fret;           ///< 1 to 36
    Cents error;        ///< against equal temperament, from the string's own reference; positive: sharp
    Cents uncertainty;  ///< standard uncertainty of its pitch alone, without the hand's scatter
};

/// What physics expects a string to show at a fret of a neck without a fault. Only its shape counts: the part
/// that the saddle can remove is the saddle's to remove.
struct KnownError {
    int string;
    int fret;
    Cents error;
};

struct FretWeight {
    int fret;
    double weight;  ///< >= 0
};

struct FretTarget {
    int fret;
    Cents target;  ///< against equal temperament
};

struct NeckSurveyOptions {
    int frets = 22;  ///< frets the neck has; a note that is asked for lies on one of them
    SaddleSharing bridge = SaddleSharing::individual;
    std::vector<FretWeight> weights;  ///< of the frets a player uses; none: all plucked frets alike. A fret
                                      ///< that is not named counts nothing
    std::vector<FretTarget> targets;  ///< equal temperament where none is named
    std::vector<KnownError> known;    ///< none: what strings of such pitch and scale usually show
    bool heights_known = true;        ///< action and nut height behind `known` were measured, not guessed
    bool relief_known = true;         ///< and so was the relief
    /// Standard deviation of the hand from pluck to pluck, before anything was heard; the plucks themselves
    /// soon know better.
    Cents fretting_scatter{1.0};
};

/// What can be wrong along a neck, in the order in which it is mended: whatever stands earlier changes what
/// is measured of the later ones.
enum class NeckCause {
    string,          ///< one string fits no shape that saddle or nut can make
    fret,            ///< one fret, on all strings plucked there
    fret_on_string,  ///< one fret under one string alone
    nut_height,      ///< the string lies too high over the nut; negative: too low
    nut_position,    ///< the nut's edge stands too far from the bridge; negative: too near
    saddle,          ///< the saddle stands too near to the nut; negative: too far
};

/// A note of the neck.
struct NeckNote {
    int string;
    int fret;
    friend bool operator==(NeckNote, NeckNote) = default;
};

struct NamedCause {
    NeckCause cause;
    std::optional<int> string;  ///< nothing: all strings
    std::optional<int> fret;
    friend bool operator==(const NamedCause&, const NamedCause&) = default;
};

/// A fault that stands out of the scatter, or several causes of which one must be at work.
struct NeckFinding {
    NamedCause cause;
    /// What mends it: the saddle's way toward the tail, the nut's toward the bridge, what the nut's slot lies
    /// too high. Nothing where it is no length.
    std::optional<Uncertain<Millimetres>> length;
    /// What it does to the notes: at its fret, or at the plucked fret where it does most; for a string the
    /// root of its mean square.
    Uncertain<Cents> effect;
    double probability;              ///< of this cause among all that could explain the same notes
    std::vector<NamedCause> rivals;  ///< "either ... or": no sure name while there is one
    std::vector<NeckNote> deciding;  ///< one or two notes that would tell them apart
};

/// Two causes on one string that no fit can separate from the frets plucked there.
struct Inseparable {
    int string;
    std::pair<NeckCause, NeckCause> causes;
    std::vector<NeckNote> deciding;  ///< the one or two notes that would separate them best
};

/// How large a fault has to be so that 95 of 100 surveys like this one would name it.
struct DetectableSize {
    NeckCause cause;  ///< saddle, nut_position, nut_height or fret
    bool all_strings;
    std::optional<int> fret;
    Millimetres size;               ///< for a fret: of its contact line along the string
    Millimetres with_three_plucks;  ///< had every note three times as many plucks
};

/// Two lengths that were fitted together.
struct SaddleAndNut {
    Uncertain<Millimetres> saddle_toward_tail;
    Uncertain<Millimetres> nut_toward_bridge;
    double correlation;
    std::optional<Uncertain<Millimetres>> nut_too_high;  ///< where 4 frets or more were plucked
    Cents left;                                          ///< root mean square of what would remain
};

/// One fret of one string, all its plucks together.
struct SurveyedNote {
    int string;
    int fret;
    int plucks;  ///< those that were counted
    int bent;    ///< left out: they stand far off everything else
    Uncertain<Cents> error;
    Cents after_saddle;          ///< what the saddle's best place would leave
    Cents after_saddle_and_nut;  ///< what saddle and nut together would leave
    Cents fitted;                ///< by all causes that were found
};

struct SurveyedFret {
    int fret;
    Uncertain<Cents> common;  ///< on all strings, beyond what saddle and nut explain
    int strings;              ///< how many were plucked there
    Cents before;             ///< root mean square error
    Cents after_saddle;
    Cents after_saddle_and_nut;
};

struct SurveyedStringFit {
    int string;
    Uncertain<Millimetres>
        saddle_alone;      ///< toward the tail, least squares with the weights; what most can do
    Cents left_by_saddle;  ///< root mean square, with the weights
    std::optional<SaddleAndNut> together;  ///< nothing where its frets cannot separate the two
    Millimetres on_this_bridge{0.0};       ///< saddle move that its kind of bridge allows
    Cents left_on_this_bridge{0.0};
    Cents before{0.0};
    Cents misfit{0.0};  ///< root mean square beyond all shapes: this string alone
};

struct NeckSurvey {
    std::vector<SurveyedStringFit> strings;  ///< string 1 first; those with at least one fretted note
    std::vector<SurveyedNote> notes;         ///< by string, then by fret
    std::vector<SurveyedFret> frets;         ///< those that were plucked
    std::vector<NeckFinding> findings;       ///< what to do first stands first
    std::vector<Inseparable> inseparable;
    std::vector<DetectableSize> detectable;
    std::vector<NeckNote> bent;  ///< notes of which a pluck was left out, or all: pluck them again
    Cents scatter{1.0};          ///< standard deviation of one pluck, as these plucks show it
    Cents before{0.0};           ///< root mean square over all notes
    Cents after_saddle{0.0};
    Cents after_saddle_and_nut{0.0};
};

/// Takes the errors of a neck apart. With g = 2^(n/12) - 1, L the scale length and C = 1200 / ln 2, string s
/// shows at fret n
///
///     e = C / L (g saddle_s + nut_s) + K_s ((2 b + height_s) / g + 2 H) height_s + fret_n + bent plucks
///         + scatter,     K_s = (C / 4) (EA/T)_s / L^2
///
/// (lengths in mm, b and H the string's heights over nut and saddle; a slot that lies higher raises the
/// string over every fret, most over the first). Each cause has a prior size and odds against it; which
/// causes are at work is decided by the evidence of the linear model that has them, the scatter of the plucks
/// integrated out, from two starts (nothing at work; every saddle off), adding, dropping and exchanging
/// causes until nothing gains. A cause is named when the plucks outweigh the odds against it, which takes
/// about three standard deviations of a saddle, four of a low fret; it is named alone when no other explains
/// them nearly as well (19 : 1), otherwise its rivals are named with it. A pluck far off all others of its
/// note and its neighbours is a bent pluck and counts nowhere, however far off it is: the limit of a
/// redescending robust fit. A note of which half the plucks or more are bent counts nowhere at all.
///
/// What is no fault on any neck is in the model from the start, with its usual size: stretch over a straight
/// nut, relief, where the finger presses, heights and the elasticity of the core that are not known, frets
/// that lie 0.03 mm off at random, saddles near the best place for the 12th or on the way to that for all
/// frets, all alike, and the reference note's own uncertainty. All of it is smaller where `known` says what
/// to expect. Beside a string that fits nothing, that string's own saddle and nut are not judged.
///
/// The least-squares places of saddle and nut are another question: what would leave least, whatever the
/// cause. They count every note alike, or as `weights` says, bent plucks and notes of bad frets left out.
///
/// strings       at least one, each number once
/// observations  of these strings; any order, any number of repeats, any frets missing
///
/// Sources: shapes of Anderson & Beausoleil, J. Acoust. Soc. Am. 156, 683 (2024), and the stretch identity
/// derived from them; the mean-shift form of a robust fit, She & Owen, J. Am. Stat. Assoc. 106, 626 (2011),
/// from memory; what is usual on a neck is common practice, no source.
[[nodiscard]] NeckSurvey survey_neck(const std::vector<SurveyedString>& strings,
                                     const std::vector<NeckObservation>& observations,
                                     const NeckSurveyOptions& options);

}  // namespace midspan
