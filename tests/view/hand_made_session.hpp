// hand_made_session.hpp: sessions at the bench as they could stand, written down by hand.
//
// Room: tests/view.
#pragma once

#include <vector>

#include "midspan/instrument/instrument.hpp"
#include "midspan/measurement/analysis.hpp"
#include "midspan/measurement/bench_event.hpp"

namespace midspan::test {

struct HandMadeSession {
    Instrument instrument;
    BenchState state;
    Analysis analysis;
};

/// Six strings on screws of 0.5 mm that move the saddle to the tail clockwise; nothing was plucked.
inline HandMadeSession nothing_plucked() {
    const std::vector<Millimetres> length{Millimetres{648.0}};
    HandMadeSession session{
        make_instrument(standard_tuning, length, Hertz{440.0}, {Millimetres{0.5}, true, {}, {}}).value(),
        {},
        {}};
    for (const InstrumentString& string : session.instrument.strings) {
        BenchString fresh;
        fresh.number = string.number;
        session.state.strings.push_back(fresh);
        session.analysis.strings.push_back({string, {}, {}, {}, {}, {}, Verdict::measure_again, {}});
    }
    return session;
}

inline void measure(HandMadeSession& session, int string, Cents error, Verdict verdict) {
    const auto index = static_cast<std::size_t>(string - 1);
    const InstrumentString& of = session.instrument.strings[index];
    const Uncertain<Cents> measured{error, Cents{0.1}};
    const SaddleMove move = saddle_move(measured, of.scale_length);
    const Turns screw = turns(move.toward_tail, Millimetres{0.5});
    AnalysedString& analysed = session.analysis.strings[index];
    analysed.comparison = OctaveComparison{{2.0 * of.open_frequency, Hertz{0.01}},
                                           {2.0 * of.open_frequency, Hertz{0.01}},
                                           Cents{0.05},
                                           Cents{0.05},
                                           2,
                                           2,
                                           measured,
                                           Cents{0.1},
                                           false};
    analysed.move = move;
    analysed.verdict = verdict;
    BenchString& bench = session.state.strings[index];
    bench.stage = verdict == Verdict::move ? StringStage::to_move : StringStage::done;
    bench.harmonics = bench.fretted = 2;
    bench.tuning = TuningHeard{string, Cents{-1.8}, Cents{0.1}, true};
    bench.result = StringResult{
        string, bench.round, 2, measured, verdict, move, {screw, Turns{0.05}}, TurnsFrom::thread, {}};
}

/// String 6 is done, string 5 has to move.
inline HandMadeSession a_move() {
    HandMadeSession session = nothing_plucked();
    measure(session, 6, Cents{0.4}, Verdict::in_tolerance);
    measure(session, 5, Cents{2.94}, Verdict::move);
    session.state.current = 5;
    session.state.awaited = {5, NoteKind::harmonic, true};
    session.state.last_note = FinishedNote{5,           NoteKind::fretted,  1,
                                           2,           Hertz{220.4},       Cents{0.06},
                                           Cents{2.97}, NoteQuality::clear, Decibels{-21.0},
                                           {}};
    session.state.level = LevelHeard{Decibels{-21.0}, InputLevel::good};
    return session;
}

/// Somebody talked into the fretted note of string 4.
inline HandMadeSession a_refusal() {
    HandMadeSession session = a_move();
    session.state.current = 4;
    session.state.strings[3].stage = StringStage::measuring;
    session.state.strings[3].harmonics = 1;
    session.state.awaited = {4, NoteKind::fretted, false};
    session.state.last_note.reset();
    session.state.last_refusal =
        RefusedNote{4, Refusal::talked_over, "another sound fell into it; pluck it again in the quiet"};
    session.state.level = LevelHeard{Decibels{-3.0}, InputLevel::too_loud};
    return session;
}

/// String 5 was moved and is being tuned back.
inline HandMadeSession being_tuned() {
    HandMadeSession session = a_move();
    BenchString& bench = session.state.strings[4];
    bench.earlier_rounds.push_back(*bench.result);
    bench.result.reset();
    bench.round = 2;
    bench.harmonics = bench.fretted = 0;
    bench.stage = StringStage::measuring;
    bench.tuning = TuningHeard{5, Cents{-7.4}, Cents{0.2}, true};
    session.state.awaited = {5, NoteKind::harmonic, false};
    return session;
}

/// String 5 was moved and measured anew, and is good enough; string 4 is next.
inline HandMadeSession second_round() {
    HandMadeSession session = a_move();
    BenchString& bench = session.state.strings[4];
    bench.earlier_rounds.push_back(*bench.result);
    bench.round = 2;
    measure(session, 5, Cents{-0.3}, Verdict::in_tolerance);
    bench.screw = ScrewLearned{
        5, MoveOutcome::as_expected, {Cents{1.38}, Cents{0.05}}, Turns{2.2}, Cents{2.94}, Cents{-0.3}};
    session.state.awaited = {4, NoteKind::harmonic, false};
    return session;
}

}  // namespace midspan::test
