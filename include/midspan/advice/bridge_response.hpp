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
    missing_retune,  ///< twice the expected: the new fretted note against the harmonic of before the move
    unclear,         ///< the move was too small for its readings to learn from
};

[[nodiscard]] std::string_view move_outcome_name(MoveOutcome outcome);

/// A move that was advised, and the errors around it.
struct MadeMove {
    Uncertain<Cents> before;  ///< error when the move was advised
    Turns advised;            ///< of the screw, positive toward the tail
    Uncertain<Cents> after;   ///< error measured after moving and retuning
};

/// What is known of a screw from moves of before.
struct KnownResponse {
    Uncertain<Cents> cents_per_turn;  ///< both > 0
    int moves;                        ///< from how many, at least 1
};

/// How one saddle answers its screw: a turn toward the tail changes the error by -k cents.
///
/// What is believed of k is a log-normal: k > 0, and its logarithm a Gaussian. The prior comes from the
/// thread pitch p and the scale length L (saddle_move.hpp):
///
///     k = p 1200 / (L ln 2)          2.67 cents a millimetre at 648 mm
///
/// with 3 % where p is known (the model of the move) and, where it is not, p = 0.55 mm with 35 %: two in
/// three screws of saddles are then taken to lie between 0.39 and 0.78 mm (common practice, no source).
///
/// After a move of a turns the error should have changed by D = k a. What it did change by is judged as one
/// of four stories, each a Gaussian around its own D, the most probable wins:
///
///     as_expected     D = k a      85 in a hundred moves
///     did_not_move    D = 0         5
///     wrong_way       D = -k a      5
///     missing_retune  D = 2 k a     5
///
/// The variance is that of both errors, of the hand (0.05 turn), of backlash (0.05 turn: up to 0.1 is lost
/// whenever a screw turns back, common practice) and of what is believed of k. Only a move as expected
/// updates k: D / a and the prior are combined in the logarithm by their variances. A move that should have
/// changed less than three times what hand, backlash and readings leave open is unclear, and teaches nothing.
///
/// How good it is: over simulated bridges of thread pitches from 0.35 to 0.8 mm nobody knows, errors of 3 to
/// 20 cents, backlash, and one saddle in twenty that sticks, 1.8 moves on average bring the error to within a
/// cent, and two do so in 96 cases of 100; by the prior alone it takes 2.0, and two suffice in 76.
class BridgeResponse {
public:
    /// thread_pitch  of the screw, > 0 mm; nothing: not known
    /// scale_length  > 0 mm
    BridgeResponse(std::optional<Millimetres> thread_pitch, Millimetres scale_length);

    /// As another one was left: what is learned from now on is as if that one had gone on.
    explicit BridgeResponse(const KnownResponse& known);

    /// Takes in what came of a move; says by name what it was.
    MoveOutcome learn(const MadeMove& move);

    /// k with its standard uncertainty; > 0.
    [[nodiscard]] Uncertain<Cents> cents_per_turn() const;

    /// Whether a move has been taken in that taught something, here or before.
    [[nodiscard]] bool learned() const { return moves_ > 0; }

    /// What moves have taught, to go on from another time; nothing until one has.
    [[nodiscard]] std::optional<KnownResponse> known() const;

    /// Turns that remove `error`; positive toward the tail.
    [[nodiscard]] Turns turns_for(Cents error) const;

    /// The same with its standard uncertainty: that of the error, and that of k.
    [[nodiscard]] Uncertain<Turns> turns_for(Uncertain<Cents> error) const;

private:
    double log_mean_;       // of k in cents
    double log_deviation_;  // relative standard uncertainty of k
    int moves_ = 0;         // that taught something
};

}  // namespace midspan
