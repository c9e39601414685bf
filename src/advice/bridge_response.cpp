// bridge_response.cpp: combining what theory says of a screw with what it did.
//
// Room: advice. Pure. May include: ground, instrument.
#include "midspan/advice/bridge_response.hpp"

#include <cassert>
#include <cmath>
#include <numbers>

namespace midspan {
namespace {

constexpr double usual_thread_pitch = 0.55;  // mm
constexpr double known_deviation = 0.03;
constexpr double unknown_deviation = 0.35;
constexpr double hand = 0.05;     // turns
constexpr double backlash = 0.1;  // turns that may be lost
constexpr double clearly = 3.0;   // standard uncertainties
constexpr double smallest_share = 0.25;

double square(double v) { return v * v; }

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

MoveOutcome BridgeResponse::learn(const MadeMove& move) {
    const double k = std::exp(log_mean_);
    const double turned = std::abs(move.advised.value());
    const double expected = k * turned;
    // How much of the error went away, positive in the direction that was advised.
    const double sign = move.advised.value() < 0.0 ? -1.0 : 1.0;
    const double went = sign * (move.before.value - move.after.value).value();
    const double reading =
        std::sqrt(square(move.before.uncertainty.value()) + square(move.after.uncertainty.value()));
    const double by_hand = k * std::sqrt(square(hand) + square(backlash));
    if (turned == 0.0 || expected < clearly * std::sqrt(square(reading) + square(by_hand)))
        return MoveOutcome::unclear;

    // Each outcome is a share of the expected: none, all the wrong way, twice. What the screw's pitch leaves
    // open widens all but the first alike.
    const double open = expected * log_deviation_;
    const double noise = std::sqrt(square(reading) + square(by_hand));
    if (went < -std::max(clearly * reading, smallest_share * expected)) return MoveOutcome::wrong_way;
    if (went < std::max(clearly * reading, smallest_share * expected) &&
        went < expected - clearly * std::sqrt(square(open) + square(noise)) + smallest_share * expected) {
        return MoveOutcome::did_not_move;
    }
    if (std::abs(went - 2.0 * expected) < std::abs(went - expected) &&
        went - expected > 2.0 * std::sqrt(square(open) + square(noise))) {
        return MoveOutcome::missing_retune;
    }

    const double observed = std::log(went / turned);
    const double deviation = noise / went;
    const double weight_prior = 1.0 / square(log_deviation_);
    const double weight_observed = 1.0 / square(deviation);
    log_mean_ = (weight_prior * log_mean_ + weight_observed * observed) / (weight_prior + weight_observed);
    log_deviation_ = 1.0 / std::sqrt(weight_prior + weight_observed);
    learned_ = true;
    return MoveOutcome::as_expected;
}

Uncertain<Cents> BridgeResponse::cents_per_turn() const {
    const double k = std::exp(log_mean_);
    return {Cents{k}, Cents{k * log_deviation_}};
}

Turns BridgeResponse::turns_for(Cents error) const { return Turns{error.value() / std::exp(log_mean_)}; }

}  // namespace midspan
