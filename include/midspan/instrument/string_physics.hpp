// string_physics.hpp: the notes a stretched, stiff string gives over the frets of a perfect neck.
//
// Room: instrument. Pure. May include: ground.
#pragma once

#include "midspan/instrument/string_make.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// How one string lies over the neck. Heights are above the line of the fret tops of a straight neck.
struct StringLay {
    Millimetres scale_length;
    Millimetres saddle_setback{0.0};  ///< how far the saddle sits beyond the scale length
    Millimetres nut_shift{0.0};       ///< how far the nut edge sits toward the saddle
    Millimetres nut_height{0.0};      ///< of the string where it leaves the nut
    Millimetres saddle_height{0.0};   ///< of the string where it meets the saddle
    Millimetres relief{0.0};          ///< how far the neck bows away mid-way between frets 1 and 17

    double clamped_ends = 1.0;       ///< 0 both ends turn freely, 2 both are held in their direction
    Millimetres finger_behind{0.0};  ///< how far behind the fret the finger holds the string down
    Millimetres string_beyond{0.0};  ///< string beyond nut and saddle that slides and shares the stretch
};

/// Where a fret's top really is.
struct FretPlace {
    Millimetres toward_saddle{0.0};  ///< of its place in equal temperament
    Millimetres above{0.0};          ///< of its neighbours
};

/// What nobody knows of how a string is held; standard uncertainties (k = 1).
///
/// clamped_ends   evenly between 0 and 2. Measured on nylon: 1.1 ± 0.2 (Anderson & Beausoleil 2024)
/// finger_behind  evenly between 0 and 10 mm, so a prediction is made with 5
/// string_beyond  none slides, or some 100 mm do
struct HoldUncertainty {
    double clamped_ends = 0.58;
    Millimetres finger_behind{2.9};
    Millimetres string_beyond{50.0};
};

/// The lengths of a string, following its bends.
struct StringPath {
    Millimetres open;      ///< nut to saddle
    Millimetres speaking;  ///< fret to saddle
    Millimetres behind;    ///< nut to fret, over the finger
};

/// The path of string `lay` pressed at `fret` (1 to 36); straight from nut to finger to fret to saddle.
[[nodiscard]] StringPath string_path(const StringLay& lay, int fret, FretPlace place = {});

/// How high the open string runs over the top of `fret`, the relief in the neck: what is measured as action.
[[nodiscard]] Millimetres action(const StringLay& lay, int fret);

/// The height at the saddle that gives this action at the 12th fret, the rest of `lay` as it is.
[[nodiscard]] Millimetres saddle_height_for(const StringLay& lay, Millimetres action_at_12th);

/// What stiffness does to the frequency of a string: by which factor it raises the lowest partial,
///
///     s = sqrt(1 + B) / (1 - k beta),   B = (pi beta / (1 - k beta))^2,   beta = sqrt(EI / T) / L
///
/// k the number of clamped ends, each of which holds the string straight over sqrt(EI / T).
///
/// Sources: the pinned stiff string f_n = n f0 sqrt(1 + B n^2) (Fletcher 1964, from memory). With one end
/// clamped equal to 1 + beta + (1 + pi^2/2) beta^2 (Anderson & Beausoleil, JASA 156, 683, 2024) within
/// beta^3.
[[nodiscard]] double stiffness_factor(double beta, double clamped_ends);

/// What stretching does to it: by which factor the frequency rises when the wire is pulled longer by the
/// share q, the speaking length counted apart,
///
///     sqrt((1 + kappa q) (1 + q)),   kappa = EA / T
///
/// the tension growing and the weight a length shrinking. Pulling the ends of a string apart lengthens what
/// speaks by 1 + q as well, so that its R = (L/f) df/dL is (kappa - 1) / 2.
///
/// Source: Anderson & Beausoleil 2024, after Byers 1996.
[[nodiscard]] double stretch_factor(double kappa, double longer);

/// Inharmonicity, B = (pi beta / (1 - k beta))^2, of a string of this speaking length. On a guitar 1e-5 to
/// 1e-3; pressing fret n multiplies it by 2^(n/6), less what stretch and setback take back.
[[nodiscard]] double inharmonicity(const StringMake& make, Newtons tension, Millimetres speaking,
                                   double clamped_ends);

/// The tension at which the open string sounds at `open`: T = mu (2 L f / s)^2, s the stiffness factor.
/// Stiffness takes off some 2 beta a clamped end, under 1 % on a guitar.
///
/// Source: Mersenne's law.
[[nodiscard]] Newtons string_tension(const StringMake& make, const StringLay& lay, Hertz open);

/// How sharp the note at `fret` (1 to 36) is in equal temperament counted from the open string, on a neck
/// without a fault, the open string held at `open`:
///
///     e = C ln( L_open / (2^(n/12) L_n)  sqrt((1 + kappa q) (1 + q))  s(beta_n) / s(beta_open) )
///
/// with C = 1200 / ln 2, lengths along the path, q = (L_n + L_behind - L_open) / (L_open + string_beyond).
///
/// place  where this fret really is, when it has a fault
///
/// Holds while the string touches nothing on its way. Counted from half the 12th-fret harmonic instead, take
/// off harmonic_above_open().
///
/// Source: Anderson & Beausoleil 2024, eqs. for l_0, l_n, l_p, Q_n and the error; they take beta_n as
/// 2^(n/12) beta_open, here it follows from length and tension.
[[nodiscard]] Cents fretted_error(const StringMake& make, const StringLay& lay, Hertz open, int fret,
                                  FretPlace place = {});

/// How far half the 12th-fret harmonic lies above the open string: 600 log2((1 + 4B) / (1 + B)). A fretted
/// note is sharp by so much less against the harmonic than against the open string.
[[nodiscard]] Cents harmonic_above_open(const StringMake& make, const StringLay& lay, Hertz open);

}  // namespace midspan
