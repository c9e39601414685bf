// bridge_response.cpp: combining what theory says of a screw with what it did.
//
// Room: advice. Pure. May include: ground, instrument.
#include "midspan/advice/bridge_response.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace midspan {
namespace {

constexpr double usual_thread_pitch = 0.55;  // mm
constexpr double known_deviation = 0.03;
constexpr double unknown_deviation = 0.35;
constexpr double hand = 0.05;      // turns
constexpr double backlash = 0.05;  // turns
constexpr double worth_learning = 3.0;

double square(double v) { return v * v; }

/// One story of what came of a move: how much of the expected change it predicts, and how usual it is.
struct Story {
    MoveOutcome outcome;
    double share;
    double usual;
};
constexpr std::array stories{
    Story{MoveOutcome::as_expected, 1.0, 0.85}, Story{MoveOutcome::did_not_move, 0.0, 0.05},
    Story{MoveOutcome::wrong_way, -1.0, 0.05}, Story{MoveOutcome::missing_retune, 2.0, 0.05}};

/// The logarithm of how well a story explains the change, but for a constant.
double explains(const Story& story, double change, double expected, double noise, double open) {
    const double variance = square(noise) + square(story.share * open);
    return std::log(story.usual) - 0.5 * std::log(variance) -
           0.5 * square(change - story.share * expected) / variance;
}

}  // namespace

std::string_view move_outcome_name(MoveOutcome outcome) {
    switch (outcome) {
        case MoveOutcome::as_expected:
            return "as_expected";
        case MoveOutcome::did_not_move:
            return "did_not_move";
        case MoveOutcome::wrong_way:
            return "wrong_way";
        case MoveOutcome::missing_retune:
            return "missing_retune";
        case MoveOutcome::unclear:
            return "unclear";
    }
    assert(false);
    return {};
}

BridgeResponse::BridgeResponse(std::optional<Millimetres> thread_pitch, Millimetres scale_length)
    : log_mean_{std::log((thread_pitch ? thread_pitch->value() : usual_thread_pitch) * 1200.0 /
                         (scale_length.value() * std::numbers::ln2))},
      log_deviation_{thread_pitch ? known_deviation : unknown_deviation} {
    assert(scale_length > Millimetres{0.0});
    assert(!thread_pitch || *thread_pitch > Millimetres{0.0});
}

BridgeResponse::BridgeResponse(const KnownResponse& known)
    : log_mean_{std::log(known.cents_per_turn.value.value())},
      log_deviation_{known.cents_per_turn.uncertainty / known.cents_per_turn.value},
      moves_{known.moves} {
    assert(known.cents_per_turn.value > Cents{0.0} && known.cents_per_turn.uncertainty > Cents{0.0});
    assert(known.moves >= 1);
}

MoveOutcome BridgeResponse::learn(const MadeMove& move) {
    const double k = std::exp(log_mean_);
    const double turned = std::abs(move.advised.value());
    const double expected = k * turned;
    const double by_hand = k * std::hypot(hand, backlash);
    const double noise = std::hypot(move.before.uncertainty.value(), move.after.uncertainty.value(), by_hand);
    if (expected < worth_learning * noise) return MoveOutcome::unclear;

    // How much of the error went away, positive in the direction that was advised.
    const double sign = move.advised.value() < 0.0 ? -1.0 : 1.0;
    const double change = sign * (move.before.value - move.after.value).value();
    const double open = expected * log_deviation_;
    const Story& story =
        *std::max_element(stories.begin(), stories.end(), [&](const Story& a, const Story& b) {
            return explains(a, change, expected, noise, open) < explains(b, change, expected, noise, open);
        });
    // Far beyond every story the nearest still wins; a change that has no logarithm teaches nothing.
    if (story.outcome != MoveOutcome::as_expected || change <= 0.0) return story.outcome;

    const double observed = std::log(change / turned);
    const double weight_prior = 1.0 / square(log_deviation_);
    const double weight_observed = square(change / noise);
    log_mean_ = (weight_prior * log_mean_ + weight_observed * observed) / (weight_prior + weight_observed);
    log_deviation_ = 1.0 / std::sqrt(weight_prior + weight_observed);
    moves_ += 1;
    return MoveOutcome::as_expected;
}

Uncertain<Cents> BridgeResponse::cents_per_turn() const {
    const double k = std::exp(log_mean_);
    return {Cents{k}, Cents{k * log_deviation_}};
}

std::optional<KnownResponse> BridgeResponse::known() const {
    if (moves_ == 0) return std::nullopt;
    return KnownResponse{cents_per_turn(), moves_};
}

Turns BridgeResponse::turns_for(Cents error) const { return Turns{error.value() / std::exp(log_mean_)}; }

Uncertain<Turns> BridgeResponse::turns_for(Uncertain<Cents> error) const {
    const Turns turns = turns_for(error.value);
    const double of_error = error.uncertainty.value() / std::exp(log_mean_);
    return {turns, Turns{std::hypot(of_error, turns.value() * log_deviation_)}};
}

}  // namespace midspan
