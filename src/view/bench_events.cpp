// bench_events.cpp: what happens at the bench, a line each, for people and for programs.
//
// Room: view. Pure.
#include "midspan/view/bench_events.hpp"

#include <fmt/format.h>

#include <cmath>
#include <string_view>

#include "view/bench_phrases.hpp"
#include "view/figures.hpp"
#include "view/json_parts.hpp"
#include "view/names.hpp"

namespace midspan {
namespace {

/// The keys of each event, its name first.
struct Keys {
    Json operator()(const Awaited& a) const {
        return {{"event", "awaited"},
                {"string", whole(a.string)},
                {"kind", note_kind_name(a.kind)},
                {"after_move", a.after_move}};
    }
    Json operator()(const RingingReading& r) const {
        return {{"event", "reading"},
                {"string", r.string},
                {"kind", note_kind_name(r.kind)},
                {"frequency_hz", number(r.frequency)},
                {"uncertainty_cents", number(r.uncertainty)},
                {"off_cents", number(r.off)},
                {"age_s", number(r.age)}};
    }
    Json operator()(const FinishedNote& n) const {
        return {{"event", "note"},
                {"string", n.string},
                {"kind", note_kind_name(n.kind)},
                {"round", n.round},
                {"number", n.number},
                {"frequency_hz", number(n.frequency)},
                {"uncertainty_cents", number(n.uncertainty)},
                {"off_cents", number(n.off)},
                {"quality", note_quality_name(n.quality)},
                {"level_dbfs", number(n.level)},
                {"warnings", codes(n.warnings)}};
    }
    Json operator()(const RefusedNote& r) const {
        return {{"event", "refused"},
                {"string", whole(r.string)},
                {"reason", refusal_name(r.reason)},
                {"message", r.message}};
    }
    Json operator()(const TuningHeard& t) const {
        return {{"event", "tuning"},
                {"string", t.string},
                {"off_cents", number(t.off)},
                {"uncertainty_cents", number(t.uncertainty)},
                {"from", t.from_open ? "open" : "harmonic"}};
    }
    Json operator()(const StringResult& r) const {
        std::string_view direction = "none";
        if (r.verdict == Verdict::move)
            direction = r.move.toward_tail > Millimetres{0.0} ? "toward_tail" : "toward_nut";
        return {{"event", "result"},
                {"string", r.string},
                {"round", r.round},
                {"pairs", r.pairs},
                {"error_cents", number(r.error.value)},
                {"uncertainty_cents", number(r.error.uncertainty)},
                {"verdict", verdict_name(r.verdict)},
                {"move_mm", number(r.move.toward_tail)},
                {"move_uncertainty_mm", number(r.move.uncertainty)},
                {"direction", direction},
                {"turns", number(r.turns.value)},
                {"turns_uncertainty", number(r.turns.uncertainty)},
                {"turns_from", turns_from_name(r.turns_from)},
                {"warnings", codes(r.warnings)}};
    }
    Json operator()(const RoundBegan& r) const {
        return {{"event", "round"}, {"string", r.string}, {"round", r.round}};
    }
    Json operator()(const ScrewLearned& s) const {
        return {{"event", "screw"},
                {"string", s.string},
                {"outcome", move_outcome_name(s.outcome)},
                {"cents_per_turn", number(s.cents_per_turn.value)},
                {"uncertainty_cents", number(s.cents_per_turn.uncertainty)},
                {"turns", number(s.advised)},
                {"before_cents", number(s.before)},
                {"after_cents", number(s.after)}};
    }
    Json operator()(const LevelHeard& l) const {
        return {{"event", "level"},
                {"level_dbfs", number(l.level)},
                {"band", input_level_name(l.band)},
                {"lowest_good_dbfs", number(lowest_good_level)},
                {"highest_good_dbfs", number(highest_good_level)}};
    }
    Json operator()(const SessionEnded&) const { return {{"event", "end"}}; }
};

struct Words {
    const Instrument& instrument;
    const Look& look;

    [[nodiscard]] std::string of(int string) const { return string_in_words(instrument, string); }

    std::string operator()(const Awaited& a) const { return awaited_in_words(a, instrument); }
    std::string operator()(const RingingReading&) const { return {}; }
    std::string operator()(const FinishedNote& n) const {
        return fmt::format("{}, {} {}: {}", of(n.string), kind_in_words(n.kind), n.number,
                           note_in_words(n, look));
    }
    std::string operator()(const RefusedNote& r) const {
        return r.string ? fmt::format("Refused, {}: {}", of(*r.string), r.message) : "Refused: " + r.message;
    }
    std::string operator()(const TuningHeard& t) const {
        return fmt::format("{}: {}", of(t.string), tuning_in_words(t));
    }
    std::string operator()(const StringResult& r) const {
        return fmt::format("{}: {}{}", of(r.string), result_in_words(r, look),
                           r.verdict == Verdict::move ? ", " + turns_of(r, instrument) : std::string{});
    }
    std::string operator()(const RoundBegan& r) const {
        return fmt::format("{}: measured anew, round {}", of(r.string), r.round);
    }
    std::string operator()(const ScrewLearned& s) const {
        return fmt::format("{}: {}", of(s.string), screw_in_words(s));
    }
    std::string operator()(const LevelHeard& l) const {
        return l.band == InputLevel::good ? std::string{} : level_in_words(l);
    }
    std::string operator()(const SessionEnded&) const { return "The session is over"; }
};

struct Spoken {
    const Instrument& instrument;
    const Look& look;

    [[nodiscard]] std::string of(int string) const { return fmt::format("String {}", string); }

    std::string operator()(const Awaited& a) const {
        if (!a.string) return {};
        return fmt::format("{}{}, {}.", a.after_move ? "Turn, tune, then string " : "String ", *a.string,
                           kind_in_words(a.kind));
    }
    std::string operator()(const RefusedNote& r) const { return fmt::format("Again. {}.", r.message); }
    std::string operator()(const StringResult& r) const {
        if (r.verdict == Verdict::in_tolerance) return fmt::format("{}: good enough.", of(r.string));
        if (r.verdict == Verdict::measure_again) return {};
        return fmt::format("{}: {}, {}.", of(r.string), plain_move(r.move.toward_tail, look),
                           turns_of(r, instrument));
    }
    std::string operator()(const ScrewLearned& s) const {
        if (s.outcome == MoveOutcome::as_expected || s.outcome == MoveOutcome::unclear) return {};
        return fmt::format("{}: {}.", of(s.string), screw_in_words(s));
    }
    template <class Other>
    std::string operator()(const Other&) const {
        return {};
    }
};

}  // namespace

std::string bench_event_line(const BenchEvent& event, const Instrument& instrument, const Look& look) {
    const std::string words = std::visit(Words{instrument, look}, event.what);
    if (words.empty()) return {};
    return fmt::format("{:>5}  {}\n", minutes_and_seconds(event.at), words);
}

std::string bench_event_spoken(const BenchEvent& event, const Instrument& instrument, const Look& look) {
    return std::visit(Spoken{instrument, look}, event.what);
}

std::string bench_event_json(const BenchEvent& event) {
    const Json keys = std::visit(Keys{}, event.what);
    Json line{{"schema", "midspan/event/1"}, {"event", keys["event"]}, {"at_s", number(event.at)}};
    for (const auto& [key, value] : keys.items())
        line[key] = value;
    return line.dump(-1, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace midspan
