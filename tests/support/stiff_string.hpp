// stiff_string.hpp: a second string, from the equation of motion instead of from modes.
//
// Room: tests/support. May include: ground.
#pragma once

#include <vector>

#include "midspan/units.hpp"
#include "support/plucked_string.hpp"

namespace midspan::test {

enum class StringEnds {
    pinned,   ///< free to turn: partials follow the stiff-string law exactly
    clamped,  ///< held straight: shorter by sqrt(EI/T) at each end, as on a real nut and saddle
};

/// A stiff string with losses whose tension grows with its swing (Kirchhoff and Carrier), in finite
/// differences: N pieces of length h, time step k,
///
///     u_tt = -D u - 2 s_0 u_t - eta D u_t,    D = -(1 + q) c^2 d_xx + (kappa^2 + c^2 (h^2 - c^2 k^2) / 12)
///     d_xxxx q    = (EA/T) / 2 * mean of (u_x^2 + v_x^2),  v the second plane
///
/// with c = 2 L f_0, kappa^2 = B c^2 L^2 / pi^2; the term in h^2 - c^2 k^2 takes the leading error of the
/// grid out of the wave part. Its modes in the settled limit are those of D itself, time steps included, so
/// the truth is exact for the scheme, whatever the grid. With f_1 and B fitted at partials 1 and 10, partial
/// 15 stands up to 2 cents off the stiff-string law: a string that is nearly, not quite, what an estimator
/// assumes. Nothing here shares a formula with PluckedString.
struct StiffString {
    Hertz ideal_fundamental{110.0};  ///< f_0 = c / 2L, of a string without stiffness
    double inharmonicity = 1e-4;     ///< B it has with pinned ends
    StringEnds ends = StringEnds::pinned;
    Millimetres length{648.0};
    double stretch_stiffness = 250.0;  ///< EA/T; 0: the tension stays what it is

    Millimetres pluck_height{1.0};
    double pluck_position = 0.19;   ///< fraction of the length
    Millimetres pluck_width{12.0};  ///< of the finger's round top
    double pickup_position = 0.11;  ///< velocity is read at the grid point next to it

    Seconds decay{0.9};            ///< time constant of mode 1
    Seconds decay_at_3_khz{0.15};  ///< and of a mode at 3 kHz, shorter; losses go as s_0 + eta w^2 / 2
    SecondPlane second_plane{};    ///< coupled to the first by the shared tension; ratio of pluck heights

    bool touched = false;    ///< a finger rests on the middle while it is plucked
    Seconds touch_for{0.1};  ///< and leaves after this

    Seconds duration{2.0};
    double amplitude = 0.5;  ///< the largest sample
};

/// The half of an open string above the 12th fret: half the length, its tension raised by the pressing so
/// that an ideal string would sound `pressing` above the octave.
[[nodiscard]] StiffString pressed_at_12th(StiffString open, Cents pressing);

/// The open string touched at its middle.
[[nodiscard]] StiffString touched_at_12th(StiffString open);

/// How finely a string is cut: `pieces` of equal length, even, and `steps` a second.
struct Grid {
    int pieces;
    Hertz steps;
};

/// At most 120 pieces, at least 90 where eight steps a sample allow it; always stable. Two seconds of a
/// guitar string take 0.1 to 0.4 s to compute.
[[nodiscard]] Grid grid_for(const StiffString& string, Hertz sample_rate);

struct StringMode {
    Hertz frequency;
    Seconds decay;
};

/// The lowest modes of the first plane in the settled limit, exact for the scheme on this grid.
[[nodiscard]] std::vector<StringMode> modes_of(const StiffString& string, const Grid& grid, int count);

struct StiffNote {
    std::vector<double> samples;    ///< from the moment the string is let go
    std::vector<StringMode> modes;  ///< the first 20 of the first plane
    Hertz fundamental;              ///< the truth: mode 1, or mode 2 when touched
};

[[nodiscard]] StiffNote sound_of(const StiffString& string, Hertz sample_rate);

}  // namespace midspan::test
