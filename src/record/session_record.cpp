// session_record.cpp: rounds to readings, advice to moves.
//
// Room: record. Pure.
#include "midspan/record/session_record.hpp"

#include <algorithm>

namespace midspan {
namespace {

/// A move that was advised, by what came of it.
RecordedMove made(const StringResult& advised, std::optional<MoveOutcome> outcome, const Moment& when) {
    RecordedMove move{when, advised.string, advised.move.toward_tail, advised.turns.value, "as advised"};
    if (!outcome) {
        move.note = "as advised; not measured after it";
        return move;
    }
    switch (*outcome) {
        case MoveOutcome::as_expected:
        case MoveOutcome::unclear:
            break;
        case MoveOutcome::did_not_move:
            move.toward_tail = Millimetres{0.0};
            move.turns.reset();
            move.note = "the saddle did not move";
            break;
        case MoveOutcome::wrong_way:
            move.toward_tail = -advised.move.toward_tail;
            move.turns = -advised.turns.value;
            move.note = "the other way than advised";
            break;
        case MoveOutcome::missing_retune:
            move.note = "as advised; the string was not tuned after it";
            break;
    }
    return move;
}

}  // namespace

std::vector<KnownScrew> known_screws(std::span<const LearnedScrew> screws) {
    std::vector<KnownScrew> known;
    for (const LearnedScrew& screw : screws) {
        if (screw.moves < 1 || screw.uncertainty <= CentsPerTurn{0.0}) continue;
        known.push_back(
            {screw.string,
             {{Cents{screw.cents_per_turn.value()}, Cents{screw.uncertainty.value()}}, screw.moves}});
    }
    return known;
}

BenchWork work_of(const BenchSession& session, std::span<const KnownScrew> known,
                  std::span<const Moment> rounds_ended, const Moment& now) {
    const auto end_of = [&](int round) {
        const auto index = static_cast<std::size_t>(round - 1);
        return index < rounds_ended.size() ? rounds_ended[index] : now;
    };
    const std::vector<BenchString>& strings = session.state().strings;
    const int rounds = std::ranges::max_element(strings, {}, &BenchString::round)->round;
    BenchWork work;
    for (int round = 1; round <= rounds; ++round) {
        work.readings.push_back(
            {round < rounds ? end_of(round) : now, ReadingSource::listen, session.analysis_of_round(round)});
        for (const BenchString& string : strings) {
            if (string.round <= round) continue;
            const auto index = static_cast<std::size_t>(round - 1);
            work.moves.push_back(made(string.earlier_rounds[index], string.outcomes[index], end_of(round)));
        }
    }
    for (const KnownScrew& screw : session.screws()) {
        const auto before = std::ranges::find(known, screw.string, &KnownScrew::string);
        if (before != known.end() && before->response.moves == screw.response.moves) continue;
        work.screws.push_back({screw.string, CentsPerTurn{screw.response.cents_per_turn.value.value()},
                               CentsPerTurn{screw.response.cents_per_turn.uncertainty.value()},
                               screw.response.moves, now});
    }
    return work;
}

}  // namespace midspan
