// sheet_content.cpp: the first and the last word on everything.
//
// Room: view. Pure.
#include "view/sheet_content.hpp"

#include <algorithm>

#include "midspan/advice/saddle_move.hpp"

namespace midspan {
namespace {

const AnalysedString* compared(const IntonationReading& reading, int number) {
    const auto& strings = reading.analysis.strings;
    const auto found = std::ranges::find_if(
        strings, [number](const AnalysedString& s) { return s.string.number == number && s.comparison; });
    return found != strings.end() ? &*found : nullptr;
}

bool same_notes(const AnalysedString& a, const AnalysedString& b) {
    return a.comparison->harmonic.value == b.comparison->harmonic.value &&
           a.comparison->fretted.value == b.comparison->fretted.value &&
           a.comparison->fretted_notes == b.comparison->fretted_notes;
}

std::optional<Millimetres> distance(const RecordedMove& move, const Saddle& saddle) {
    if (move.toward_tail) return move.toward_tail;
    if (!move.turns || !saddle.thread_pitch) return std::nullopt;
    return move.turns->value() * *saddle.thread_pitch;
}

std::optional<WholeMove> whole_move(const StringOverVisit& s, const Visit& visit) {
    Millimetres sum{0.0};
    bool any = false;
    bool all_known = true;
    for (const RecordedMove& move : visit.moves) {
        if (move.string != s.string.number) continue;
        any = true;
        const auto by = distance(move, s.string.saddle);
        if (by) sum = sum + *by;
        all_known = all_known && by;
    }
    // Whoever wrote one move down wrote all of them down.
    if (!visit.moves.empty() && all_known) return WholeMove{sum, false};
    if (s.before == nullptr || s.after == nullptr) return std::nullopt;
    if (!any && s.before->verdict == Verdict::in_tolerance) return std::nullopt;
    const Uncertain<Cents> fallen{s.before->comparison->error.value - s.after->comparison->error.value,
                                  Cents{0.0}};
    return WholeMove{saddle_move(fallen, s.string.scale_length).toward_tail, true};
}

std::optional<Turns> all_turns(int string, const Visit& visit) {
    std::optional<Turns> sum;
    for (const RecordedMove& move : visit.moves) {
        if (move.string != string) continue;
        if (!move.turns) return std::nullopt;
        sum = sum ? *sum + *move.turns : *move.turns;
    }
    return sum;
}

const FittedString* fitted(const InstrumentEntry& instrument, const Visit& visit, int number) {
    const auto index = static_cast<std::size_t>(number - 1);
    if (index < visit.fitted.size()) return &visit.fitted[index];
    if (index < instrument.fitted.size()) return &instrument.fitted[index];
    return nullptr;
}

}  // namespace

bool same_thing(const BenchMeasurement& a, const BenchMeasurement& b) {
    return a.quantity == b.quantity && a.string == b.string && a.method == b.method;
}

std::vector<StringOverVisit> strings_over(const InstrumentEntry& instrument, const Visit& visit) {
    std::vector<StringOverVisit> strings;
    for (auto string = instrument.instrument.strings.rbegin(); string != instrument.instrument.strings.rend();
         ++string) {
        StringOverVisit s{*string, fitted(instrument, visit, string->number), nullptr, nullptr, {}, {}};
        for (const IntonationReading& reading : visit.readings) {
            const AnalysedString* found = compared(reading, string->number);
            if (found == nullptr) continue;
            // A session that went on with other strings says the same of this one again.
            const bool live = reading.source == ReadingSource::listen;
            if (live && s.before != nullptr && same_notes(*s.before, *found)) continue;
            (s.before == nullptr ? s.before : s.after) = found;
        }
        s.move = whole_move(s, visit);
        s.turned = all_turns(string->number, visit);
        strings.push_back(s);
    }
    return strings;
}

Cents tolerance_of(const Visit& visit) {
    return visit.readings.empty() ? default_tolerance : visit.readings.back().analysis.tolerance;
}

std::vector<MeasuredOverVisit> measured_over(const Visit& visit) {
    std::vector<MeasuredOverVisit> all;
    for (const BenchMeasurement& m : visit.measurements) {
        const auto found = std::ranges::find_if(
            all, [&m](const MeasuredOverVisit& other) { return same_thing(other.any(), m); });
        if (found != all.end()) {
            found->after = &m;
        } else if (!visit.moves.empty() && m.taken_at > visit.moves.front().made_at) {
            all.push_back({nullptr, &m});
        } else {
            all.push_back({&m, nullptr});
        }
    }
    return all;
}

}  // namespace midspan
