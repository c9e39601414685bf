// bridge_response.hpp: what one turn of a saddle's screw does, learned from every move.
//
// Room: advice. Pure. May include: ground, instrument.
#pragma once

#include <optional>
#include <string_view>

#include "midspan/uncertain.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// What came of a move, by name. Spelled as in `--json`.
enum class MoveOutcome {
    as_expected,     ///< the error went where the advice sends it, within what is known of the screw
    did_not_move,    ///< nothing changed: the saddle sticks, or the screw was not turned
    wrong_way,       ///< the error grew by about what it should have shrunk
    missing_retune,  ///< twice the expected: a note of the new length against one of the old, not tuned back
    unclear,         ///< the readings are too uncertain, or the move too small, to learn from
};

[[nodiscard]] std::string_view move_outcome_name(MoveOutcome outcome);

/// A move that was advised, and the errors around it.
struct MadeMove {
    Uncertain<Cents> before;  ///< error when the move was advised
    Turns advised;            ///< of the screw, positive toward the tail
    Uncertain<Cents> after;   ///< error measured after moving and retuning
};

/// How one saddle answers its screw: a turn toward the tail changes the error by -cents_per_turn.
///
/// What is believed of the cents per turn k is a log-normal: k > 0, its logarithm a Gaussian. The prior comes
/// from the thread pitch p and the scale length L,
///
///     k = p 1200 / (L ln 2)
///
/// 2.67 cents a millimetre at 648 mm: 3 % wide where p is known (the model of the move, and a hand that turns
/// to an eighth), and where it is not, around 0.55 mm with 35 %, which spans the screws that are found on
/// saddles, 0.35 to 0.8 mm (common practice, no source).
///
/// A move that was made updates it: with a turns advised, k' = (before - after) / a has the variance of both
/// errors, of what a hand is off by (0.05 turn), and of backlash (0.1 turn may be lost before the saddle
/// follows, common practice). Prior and reading are combined in the logarithm by their variances, after the
/// reading has been told by name: what did not move, went the wrong way or was not retuned teaches nothing
/// about the screw and leaves it as it was.
class BridgeResponse {
public:
    /// thread_pitch  of the screw, > 0 mm; nothing: not known
    /// scale_length  > 0 mm
    BridgeResponse(std::optional<Millimetres> thread_pitch, Millimetres scale_length);

    /// Takes in what came of a move; says by name what it was.
    MoveOutcome learn(const MadeMove& move);

    /// k with its standard uncertainty; > 0.
    [[nodiscard]] Uncertain<Cents> cents_per_turn() const;

    /// Whether a move has been taken in that taught something.
    [[nodiscard]] bool learned() const { return learned_; }

    /// Turns that remove `error`; positive toward the tail.
    [[nodiscard]] Turns turns_for(Cents error) const;

private:
    double log_mean_;       // of k in cents
    double log_deviation_;  // relative standard uncertainty of k
    bool learned_ = false;
};

}  // namespace midspan
