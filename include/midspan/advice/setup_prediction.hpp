// setup_prediction.hpp: what other strings, another tuning or other heights will do, before it is done.
//
// Room: advice. Pure. May include: ground, instrument.
#pragma once

#include <optional>
#include <vector>

#include "midspan/instrument/instrument.hpp"
#include "midspan/instrument/string_make.hpp"
#include "midspan/uncertain.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// A way an instrument is set up.
struct Setup {
    Instrument instrument;             ///< tuning, scale lengths, travel left from where the saddles are now
    std::vector<StringGauge> strings;  ///< string 1 first, one for each of the instrument
    Millimetres action;                ///< open string over fret 12, the same for all
    Millimetres nut_height;            ///< of the strings over the line of the fret tops
    Millimetres relief;                ///< mid-way between frets 1 and 17
};

/// Common practice for an electric guitar, no source: what is taken where nothing was measured.
inline constexpr Millimetres usual_action{1.8};
inline constexpr Millimetres usual_nut_height{0.5};
inline constexpr Millimetres usual_relief{0.2};

/// The nearest and farthest of what heights can be; beyond it a number is a slip of the pen.
inline constexpr Millimetres highest_action{10.0};
inline constexpr Millimetres highest_nut{3.0};
inline constexpr Millimetres deepest_relief{2.0};

struct PredictedNote {
    int fret;
    Uncertain<Cents> before;  ///< error with the saddle set at the 12th before the change
    Uncertain<Cents> after;   ///< after it, the saddle not moved
    Uncertain<Cents> change;
    Uncertain<Cents> after_move;  ///< the saddle moved so that the 12th is right again
};

enum class TravelVerdict {
    not_known,
    enough,
    doubtful,  ///< the move with its uncertainty may go beyond it
    too_short,
};

struct PredictedString {
    int number;
    Uncertain<Newtons> tension_before, tension_after, tension_change;
    /// How far beyond the scale length the saddle stands when the 12th is right.
    Uncertain<Millimetres> setback_before, setback_after;
    Uncertain<Millimetres> move;  ///< of the saddle, positive toward the tail
    TravelVerdict travel;
    double share_of_strength;          ///< core stress after the change, of what music wire bears
    std::vector<PredictedNote> notes;  ///< frets 1 to 24
};

struct SetupPrediction {
    std::vector<PredictedString> strings;  ///< string 1 first
    /// Of all strings.
    Uncertain<Newtons> tension_before{Newtons{0.0}, Newtons{0.0}};
    Uncertain<Newtons> tension_after{Newtons{0.0}, Newtons{0.0}};
    Uncertain<Newtons> tension_change{Newtons{0.0}, Newtons{0.0}};
};

/// Predicts both setups by the full string model and what lies between them. The saddle is taken to stand
/// where the 12th fret is right before the change. Errors are against the 12th-fret harmonic, positive is
/// sharp.
///
/// before, after  as many strings each, the same scale lengths
///
/// Uncertainties (k = 1): modulus, wrap, unstated cores and gauges as material_uncertainty, clamped ends,
/// pressing finger and sliding string as HoldUncertainty, action to 0.1, nut height and relief to 0.05 mm.
/// What both setups share moves both alike, so that a change is known better than either; another string is
/// another maker's. The strings of a set go alike, so that their uncertainties add in the total. Each is
/// propagated linearly (GUM 5.1, JCGM 100). Not in it: strings that are faulty, and frets, nut and neck that
/// are not what they should be.
///
/// The strength of wire, 2211 / d^0.145 MPa with d the core in mm, is from memory.
[[nodiscard]] SetupPrediction predict_setup(const Setup& before, const Setup& after);

}  // namespace midspan
