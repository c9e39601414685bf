// octave_order.cpp: counting off harmonics and fretted notes, across interruptions.
//
// Room: comparison. Pure.
#include "comparison/octave_order.hpp"

#include <algorithm>
#include <cmath>

#include "comparison/kind_evidence.hpp"

namespace midspan {
namespace {

// A step between two notes means something when it is larger than what fretting and tuning wander by.
constexpr Cents telling_step{3.0};

// The pitches contradict the order when one step is at least a cent and four times the steps that should
// have been the large ones.
constexpr Cents smallest_contradiction{1.0};
constexpr double contradiction_ratio = 4.0;

// One way to split notes into kinds fits clearly better when its kinds vary by half as much.
constexpr double clearly_less_variance = 0.25;

enum class Relation { same_kind, other_kind, unknown };

class Octaves {
public:
    Octaves(std::span<const HeardNote> notes, std::span<const OctaveNote> octaves)
        : notes_{notes}, octaves_{octaves} {}

    [[nodiscard]] std::size_t size() const { return octaves_.size(); }
    [[nodiscard]] const OctaveNote& operator[](std::size_t k) const { return octaves_[k]; }
    [[nodiscard]] std::size_t note(std::size_t k) const { return octaves_[k].note; }
    [[nodiscard]] bool usable(std::size_t k) const { return notes_[note(k)].usable; }
    [[nodiscard]] const PitchReading& reading(std::size_t k) const { return *notes_[note(k)].reading; }
    [[nodiscard]] Cents step(std::size_t from, std::size_t to) const {
        return interval(reading(from).frequency, reading(to).frequency);
    }

    /// Behind the last note before the next interruption that is at least as bad as `at_least`.
    [[nodiscard]] std::size_t end_of_run(std::size_t begin, Interruption at_least) const {
        std::size_t end = begin + 1;
        while (end < size() && octaves_[end].before < at_least) {
            ++end;
        }
        return end;
    }

    /// How the first note behind an interruption is related to the harmonic left alone before it.
    [[nodiscard]] Relation relation(std::size_t alone, std::size_t next) const {
        const Relation sound = by_odd_partials(alone, next);
        const Relation pitch = by_pitch(alone, next);
        if (sound == Relation::unknown) return pitch;
        if (pitch == Relation::unknown || pitch == sound) return sound;
        return Relation::unknown;
    }

private:
    [[nodiscard]] Relation by_odd_partials(std::size_t alone, std::size_t next) const {
        const OddPartials before = odd_partials(reading(alone));
        const OddPartials after = odd_partials(reading(next));
        if (sounds_touched_beside(before, after)) return Relation::other_kind;
        return after.heard ? Relation::same_kind : Relation::unknown;
    }

    /// The note behind `next` is of the other kind; whichever of the two `alone` lies close to is its own.
    [[nodiscard]] Relation by_pitch(std::size_t alone, std::size_t next) const {
        if (next + 1 >= size() || octaves_[next + 1].before != Interruption::none) return Relation::unknown;
        const Cents apart = magnitude(step(next, next + 1));
        const Cents noise = 4.0 * (reading(next).uncertainty + reading(next + 1).uncertainty);
        if (apart < std::max(telling_step, noise)) return Relation::unknown;
        const double to_next = magnitude(step(alone, next)) / apart;
        const double to_second = magnitude(step(alone, next + 1)) / apart;
        if (to_next < 1.0 / 3.0 && to_second > 2.0 / 3.0) return Relation::same_kind;
        if (to_second < 1.0 / 3.0 && to_next > 2.0 / 3.0) return Relation::other_kind;
        return Relation::unknown;
    }

    std::span<const HeardNote> notes_;
    std::span<const OctaveNote> octaves_;
};

/// Counts off harmonic, fretted, harmonic, fretted.
class Alternation {
public:
    explicit Alternation(const Octaves& octaves) : octaves_{octaves} { told_.kinds.resize(octaves.size()); }

    OctaveOrder told() && {
        std::size_t visit = 0;
        while (visit < octaves_.size()) {
            const std::size_t visit_end = octaves_.end_of_run(visit, Interruption::other);
            tell_visit(visit, visit_end);
            visit = visit_end;
        }
        if (alone_) leave_alone();
        return std::move(told_);
    }

private:
    void tell_visit(std::size_t begin, std::size_t end) {
        bool regular = !alone_;
        for (std::size_t k = begin; k < end; ++k) {
            const bool run_begins = k == begin || octaves_.end_of_run(k - 1, Interruption::no_note) == k;
            if (alone_ && run_begins) {
                regular = false;
                const auto fretted_first = goes_on(k, begin, end);
                if (!fretted_first) {
                    for (; k < end; ++k) {
                        leave(k, Unpaired::order_unknown);
                    }
                    return;
                }
                if (!*fretted_first) {
                    leave(*alone_, Unpaired::left_over);
                    alone_.reset();
                }
            }
            if (alone_) {
                told_.kinds[k] = NoteKind::fretted;
                pair(*alone_, k);
                alone_.reset();
            } else {
                told_.kinds[k] = NoteKind::harmonic;
                alone_ = k;
            }
        }
        if (regular && !alone_) look_for_steps(begin, end);
    }

    /// Whether the note at `k`, behind an interruption, is the partner of the harmonic left alone; nothing
    /// when there is no telling.
    [[nodiscard]] std::optional<bool> goes_on(std::size_t k, std::size_t begin, std::size_t end) const {
        const Relation relation = octaves_.relation(*alone_, k);
        if (relation != Relation::unknown) return relation == Relation::other_kind;
        if (k > begin) return (end - k) % 2 == 1;
        const bool all_used = (end - begin) % 2 == 0 && (octaves_.size() - begin) % 2 == 0;
        return all_used ? std::optional{false} : std::nullopt;
    }

    /// No partner came any more. Where pairs precede it and nothing interrupted them, one note of an odd
    /// number is missing; unless the sound agrees with the count, it may be the first as well as the last.
    void leave_alone() {
        std::size_t begin = *alone_;
        while (begin > 0 && octaves_[begin].before == Interruption::none) {
            --begin;
        }
        const bool plain =
            *alone_ + 1 == octaves_.size() && *alone_ > begin && told_.kinds[begin] == NoteKind::harmonic;
        const OddPartialsSay sound = plain ? sound_of(begin, *alone_ + 1) : OddPartialsSay::as_ordered;
        if (sound != OddPartialsSay::nothing) {
            told_.leftover_contradicts = sound == OddPartialsSay::otherwise;
            leave(*alone_, Unpaired::left_over);
            return;
        }
        for (std::size_t k = begin; k <= *alone_; ++k) {
            const std::size_t note = octaves_.note(k);
            std::erase(told_.harmonics, note);
            std::erase(told_.fretted, note);
            std::erase_if(told_.leftovers, [note](const auto& leftover) { return leftover.note == note; });
            told_.kinds[k].reset();
            leave(k, Unpaired::count_unclear);
        }
    }

    [[nodiscard]] OddPartialsSay sound_of(std::size_t begin, std::size_t end) const {
        std::vector<PitchReading> harmonics;
        std::vector<PitchReading> fretted;
        for (std::size_t k = begin; k < end; ++k) {
            (told_.kinds[k] == NoteKind::harmonic ? harmonics : fretted).push_back(octaves_.reading(k));
        }
        return odd_partials_say(harmonics, fretted);
    }

    void pair(std::size_t harmonic, std::size_t fretted) {
        if (octaves_.usable(harmonic) && octaves_.usable(fretted)) {
            told_.harmonics.push_back(octaves_.note(harmonic));
            told_.fretted.push_back(octaves_.note(fretted));
            return;
        }
        leave(harmonic, Unpaired::partner_unusable);
        leave(fretted, Unpaired::partner_unusable);
    }

    /// What is not usable has its own warning.
    void leave(std::size_t k, Unpaired why) {
        if (octaves_.usable(k)) told_.leftovers.push_back({octaves_.note(k), why});
    }

    /// Plucked in groups after all? Then the notes of a pair agree, and the step is between pairs or, for
    /// three and three, in the middle. A steady drift steps alike everywhere and is not taken for that.
    void look_for_steps(std::size_t begin, std::size_t end) {
        if (end - begin < 4) return;
        Cents noise{0.0};
        for (std::size_t k = begin; k < end; ++k) {
            if (!octaves_.usable(k)) return;
            noise = std::max(noise, octaves_.reading(k).uncertainty);
        }
        const std::size_t middle = begin + (end - begin) / 2;
        Cents within{0.0}, between{0.0}, at_middle{0.0}, elsewhere{0.0};
        for (std::size_t k = begin + 1; k < end; ++k) {
            const Cents step = magnitude(octaves_.step(k - 1, k));
            Cents& pair_step = (k - begin) % 2 == 1 ? within : between;
            pair_step = std::max(pair_step, step);
            Cents& half_step = k == middle ? at_middle : elsewhere;
            half_step = std::max(half_step, step);
        }
        const auto stands_out = [noise](Cents step, Cents others) {
            return step >= std::max({smallest_contradiction, contradiction_ratio * others,
                                     contradiction_ratio * noise});
        };
        if (stands_out(between, within) || stands_out(at_middle, elsewhere)) told_.pitch_contradicts = true;
    }

    const Octaves& octaves_;
    OctaveOrder told_;
    std::optional<std::size_t> alone_;
};

/// Splits octaves in halves, each of the `visits` by itself.
struct Visit {
    std::size_t begin;
    std::size_t end;
};

OctaveOrder halved(const Octaves& octaves, std::span<const Visit> visits) {
    OctaveOrder told;
    told.kinds.resize(octaves.size());
    for (const auto& [begin, end] : visits) {
        const std::size_t half = (end - begin) / 2;
        for (std::size_t k = begin; k < end; ++k) {
            const bool first = k < begin + half;
            if (!first && k < end - half) {
                if (octaves.usable(k)) told.leftovers.push_back({octaves.note(k), Unpaired::left_over});
                continue;
            }
            told.kinds[k] = first ? NoteKind::harmonic : NoteKind::fretted;
            if (octaves.usable(k)) (first ? told.harmonics : told.fretted).push_back(octaves.note(k));
        }
    }
    return told;
}

std::vector<PitchReading> readings_of(std::span<const HeardNote> notes, std::span<const std::size_t> which) {
    std::vector<PitchReading> readings;
    for (const std::size_t note : which) {
        readings.push_back(*notes[note].reading);
    }
    return readings;
}

/// How much the pitches of one kind vary, squared cents, both kinds together.
double variance_within_kinds(std::span<const HeardNote> notes, const OctaveOrder& told) {
    double sum = 0.0;
    for (const auto* kind : {&told.harmonics, &told.fretted}) {
        double mean = 0.0;
        for (const std::size_t note : *kind) {
            mean += interval(Hertz{1.0}, notes[note].reading->frequency).value() /
                    static_cast<double>(kind->size());
        }
        for (const std::size_t note : *kind) {
            sum += std::pow(interval(Hertz{1.0}, notes[note].reading->frequency).value() - mean, 2);
        }
    }
    return sum;
}

OctaveOrder grouped(std::span<const HeardNote> notes, const Octaves& octaves) {
    std::vector<Visit> visits;
    bool all_even = true;
    for (std::size_t begin = 0; begin < octaves.size(); begin = visits.back().end) {
        visits.push_back({begin, octaves.end_of_run(begin, Interruption::other)});
        all_even = all_even && (visits.back().end - begin) % 2 == 0;
    }
    const Visit whole{0, octaves.size()};
    OctaveOrder at_once = halved(octaves, std::span{&whole, 1});
    if (visits.size() < 2) return at_once;
    OctaveOrder one_by_one = halved(octaves, visits);

    const auto sound = [notes](const OctaveOrder& told) {
        return odd_partials_say(readings_of(notes, told.harmonics), readings_of(notes, told.fretted));
    };
    const auto sound_at_once = sound(at_once);
    const auto sound_one_by_one = sound(one_by_one);
    if (sound_at_once != sound_one_by_one) {
        if (sound_at_once == OddPartialsSay::as_ordered) return at_once;
        if (sound_one_by_one == OddPartialsSay::as_ordered) return one_by_one;
        if (sound_at_once == OddPartialsSay::otherwise) return one_by_one;
        if (sound_one_by_one == OddPartialsSay::otherwise) return at_once;
    }
    const double at_once_varies = variance_within_kinds(notes, at_once);
    const double one_by_one_varies = variance_within_kinds(notes, one_by_one);
    if (at_once_varies < clearly_less_variance * one_by_one_varies) return at_once;
    if (one_by_one_varies < clearly_less_variance * at_once_varies) return one_by_one;
    return all_even ? one_by_one : at_once;
}

}  // namespace

OctaveOrder order_octaves(std::span<const HeardNote> notes, std::span<const OctaveNote> octaves,
                          PluckOrder order) {
    const Octaves all{notes, octaves};
    if (order == PluckOrder::grouped) return grouped(notes, all);
    return Alternation{all}.told();
}

}  // namespace midspan
