// note_recognition.cpp: every way to read a recording, weighed.
//
// Room: comparison. Pure.
#include "midspan/comparison/note_recognition.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <limits>
#include <map>
#include <numbers>
#include <string>

#include "comparison/kind_evidence.hpp"

namespace midspan {
namespace {

constexpr double within_cents = 45.0;
constexpr double decided = 0.9;
constexpr double decided_out_of_order = 0.995;  // where order says little, stiffness has to be clear
constexpr double impossible = -std::numeric_limits<double>::infinity();

// Logarithms of how usual a step is, from one pluck to the next. Common practice, no source. Where a neck is
// plucked upward
constexpr double same_again = -2.0;
constexpr double up_the_neck = -1.7;  // by one fret
constexpr double for_each_fret_more = 0.25;
constexpr double back_down = -7.0;
constexpr double reference_to_fret = -2.2;
// and where string by string, but the frets in any order;
constexpr double any_fret_of_string = -3.2;
// for both:
constexpr double open_again = -5.5;       // the reference once more, in the middle of a string
constexpr double open_at_the_end = -2.2;  // where every string ends with it
constexpr double next_string = -3.3;
constexpr double other_string = -4.8;
constexpr double without_reference = -4.5;  // a new string that does not begin with its reference
constexpr double begins_without = -2.5;
constexpr double nobody_knows_where = 1.4;      // a string begins, where anything may begin it
constexpr double one_of_two_references = -0.7;  // where some strings begin open and some with a harmonic
// And where there is no order at all, every note of the neck is as usual as any other.
constexpr double any_note = -4.9;

// How far B strays from 2^(n/6), as a logarithm: 1 to 5 % between plucks of real strings, windings and fits
// more.
constexpr double stiffness_strays = 0.3;
constexpr double stiffness_says_at_most = 4.0;

/// What one note can be on one string.
struct Place {
    int string;
    int fret;
    double off;    // cents from that fret
    bool touched;  // has the odd partials of a harmonic, whatever it is
};

double log_sum(double a, double b) {
    const double high = std::max(a, b);
    if (high == impossible) return impossible;
    return high + std::log(std::exp(a - high) + std::exp(b - high));
}

/// How a neck may have been plucked. Nobody says; each is weighed by what it makes of the whole recording.
enum class PluckedOrder { up_the_neck, string_by_string, none };
enum class BegunWith { open, harmonic, either, any_fret };
struct PluckHabit {
    PluckedOrder order;
    BegunWith begun;          ///< every string
    bool ended_open = false;  ///< every string, once more
};
constexpr std::array habits{PluckHabit{PluckedOrder::up_the_neck, BegunWith::open},
                            PluckHabit{PluckedOrder::up_the_neck, BegunWith::harmonic},
                            PluckHabit{PluckedOrder::up_the_neck, BegunWith::either},
                            PluckHabit{PluckedOrder::string_by_string, BegunWith::open},
                            PluckHabit{PluckedOrder::string_by_string, BegunWith::harmonic},
                            PluckHabit{PluckedOrder::string_by_string, BegunWith::either},
                            PluckHabit{PluckedOrder::string_by_string, BegunWith::any_fret},
                            PluckHabit{PluckedOrder::up_the_neck, BegunWith::open, true},
                            PluckHabit{PluckedOrder::string_by_string, BegunWith::open, true},
                            PluckHabit{PluckedOrder::none, BegunWith::any_fret}};

constexpr double touched_elsewhere = -2.0;
/// A note so little above the last one more likely carries on along its string.
constexpr double carries_on = -3.0;
constexpr int carried_by = 3;  // semitones

/// How usual it is that a string begins like this.
double begins(const PluckHabit& habit, const Place& state, double without) {
    switch (habit.begun) {
        case BegunWith::open:
            return state.fret == 0 ? 0.0 : without;
        case BegunWith::harmonic:
            return state.fret == 12 ? 0.0 : without;
        case BegunWith::any_fret:
            return any_fret_of_string;
        case BegunWith::either:
            break;
    }
    return state.fret == 0 || state.fret == 12 ? one_of_two_references : without;
}

double begin(const PluckHabit& habit, const Place& state) {
    return habit.order == PluckedOrder::none ? any_note : begins(habit, state, begins_without);
}

/// What sounds touched was hardly pressed.
double sounds(const Place& state) { return state.touched && state.fret != 12 ? touched_elsewhere : 0.0; }

/// semitones  that the note lies above the last one
double step(const PluckHabit& habit, const Place& from, const Place& to, int semitones) {
    if (habit.order == PluckedOrder::none) return any_note;
    if (from.string == to.string) {
        const int up = to.fret - from.fret;
        const bool open_anywhere = habit.begun == BegunWith::any_fret;
        if (to.fret == 0 && up != 0 && habit.ended_open) return open_at_the_end;
        if (to.fret == 0 && up != 0 && !open_anywhere) return open_again;
        if (habit.order == PluckedOrder::string_by_string) return any_fret_of_string;
        if (up == 0) return same_again;
        if (from.fret == 0) return reference_to_fret;
        if (from.fret == 12 && from.touched) return reference_to_fret;
        if (up > 0) return up_the_neck - for_each_fret_more * (up - 1);
        return back_down;
    }
    double strings = std::abs(from.string - to.string) == 1 ? next_string : other_string;
    if (habit.begun == BegunWith::any_fret) strings += nobody_knows_where;
    if (habit.ended_open && from.fret != 0) strings += without_reference;
    const bool carried = semitones >= 1 && semitones <= carried_by;
    const bool upward = habit.order == PluckedOrder::up_the_neck;
    return strings + begins(habit, to, without_reference) + (carried && upward ? carries_on : 0.0);
}

/// "A2", "C#3".
std::string note_name(Hertz frequency, Hertz a4) {
    static constexpr std::array names{"C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"};
    const auto semitone = static_cast<int>(std::lround(interval(a4, frequency).value() / 100.0)) + 57;
    return fmt::format("{}{}", names[static_cast<std::size_t>(((semitone % 12) + 12) % 12)],
                       static_cast<int>(std::floor(semitone / 12.0)));
}

/// "1", "1 and 2", "1, 2 and 3".
template <class Thing>
std::string listed(const std::vector<Thing>& things) {
    std::string words;
    for (std::size_t i = 0; i < things.size(); ++i)
        words += fmt::format("{}{}", i == 0 ? "" : i + 1 == things.size() ? " and " : ", ", things[i]);
    return words;
}

std::string in_words(int string, const std::vector<int>& frets) {
    if (frets == std::vector{0}) return fmt::format("string {} open", string);
    return fmt::format("string {} at fret{} {}", string, frets.size() == 1 ? "" : "s", listed(frets));
}

class Reader {
public:
    Reader(std::span<const HeardNote> notes, const Instrument& instrument, int frets)
        : notes_{notes}, instrument_{instrument}, frets_{frets}, offset_{offset_of_all()} {
        for (const HeardNote& note : notes)
            states_.push_back(states_of(note));
    }

    [[nodiscard]] Recognition read() {
        Recognition result;
        result.notes.resize(notes_.size());
        weigh();
        // What is sure of one string tells the next from it.
        for (std::size_t string = 0; string < instrument_.strings.size(); ++string) {
            learn_stiffness();
            weigh();
        }
        for (std::size_t i = 0; i < notes_.size(); ++i)
            decide(i, result);
        find_harmonics(result);
        ask(result);
        return result;
    }

private:
    /// How far the instrument is from its tuning, in cents: the circular mean of what exceeds whole
    /// semitones.
    [[nodiscard]] double offset_of_all() const {
        double x = 0.0;
        double y = 0.0;
        for (const HeardNote& note : notes_) {
            if (!note.reading) continue;
            const double turn =
                2.0 * std::numbers::pi * interval(instrument_.a4, note.reading->frequency).value() / 100.0;
            x += std::cos(turn);
            y += std::sin(turn);
        }
        return x == 0.0 && y == 0.0 ? 0.0 : 100.0 * std::atan2(y, x) / (2.0 * std::numbers::pi);
    }

    [[nodiscard]] std::vector<Place> states_of(const HeardNote& note) const {
        std::vector<Place> states;
        if (!note.reading) return states;
        const bool touched = odd_partials(*note.reading).heard;
        for (const InstrumentString& string : instrument_.strings) {
            if (note.given_string && *note.given_string != string.number) continue;
            const double cents = interval(string.open_frequency, note.reading->frequency).value() - offset_;
            const auto fret = static_cast<int>(std::lround(cents / 100.0));
            const double off = cents - 100.0 * fret;
            if (fret < 0 || fret > frets_ || std::abs(off) > within_cents) continue;
            states.push_back({string.number, fret, off, touched});
        }
        return states;
    }

    [[nodiscard]] int semitones(std::size_t from, std::size_t to) const {
        return static_cast<int>(std::lround(
            interval(notes_[from].reading->frequency, notes_[to].reading->frequency).value() / 100.0));
    }

    /// What the sound of a note says of a string: whether it was touched, and, once its own is known,
    /// stiffness.
    [[nodiscard]] double sound_says(const HeardNote& note, const Place& state) const {
        const auto own = stiffness_.find(state.string);
        if (own == stiffness_.end() || !stiffness_known(note)) return sounds(state);
        const double away =
            (std::log(note.reading->inharmonicity) - state.fret * std::log(2.0) / 6.0 - own->second) /
            stiffness_strays;
        return sounds(state) - std::min(0.5 * away * away, stiffness_says_at_most);
    }

    static bool stiffness_known(const HeardNote& note) {
        return note.reading && note.reading->inharmonicity > 0.0 &&
               note.reading->inharmonicity_uncertainty < 0.2 * note.reading->inharmonicity;
    }

    /// B of the open string, as a logarithm, from the notes that are sure.
    void learn_stiffness() {
        stiffness_.clear();
        std::map<int, std::vector<double>> logs;
        for (std::size_t i = 0; i < notes_.size(); ++i) {
            if (!stiffness_known(notes_[i])) continue;
            for (std::size_t s = 0; s < states_[i].size(); ++s) {
                if (shares_[i][s] < enough_[i]) continue;
                logs[states_[i][s].string].push_back(std::log(notes_[i].reading->inharmonicity) -
                                                     states_[i][s].fret * std::log(2.0) / 6.0);
            }
        }
        for (auto& [string, values] : logs) {
            if (values.size() < 2) continue;
            const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
            std::nth_element(values.begin(), middle, values.end());
            stiffness_[string] = *middle;
        }
    }

    /// Every habit through every recording.
    void weigh() {
        shares_.clear();
        enough_.assign(notes_.size(), decided);
        for (const auto& states : states_)
            shares_.emplace_back(states.size(), 0.0);
        std::size_t first = 0;
        while (first < notes_.size()) {
            std::size_t last = first;
            while (last < notes_.size() && notes_[last].recording == notes_[first].recording)
                ++last;
            weigh(first, last);
            first = last;
        }
    }

    void weigh(std::size_t first, std::size_t last) {
        std::vector<std::size_t> chain;  // notes that fit nowhere take no part
        for (std::size_t i = first; i < last; ++i) {
            if (!states_[i].empty()) chain.push_back(i);
        }
        if (chain.empty()) return;
        std::vector<Weighed> all;
        double evidence = impossible;
        for (const PluckHabit& habit : habits) {
            all.push_back(weighed(chain, habit));
            evidence = log_sum(evidence, all.back().evidence);
        }
        double disorderly = 0.0;
        for (std::size_t h = 0; h < habits.size(); ++h) {
            const Weighed& one = all[h];
            const double weight = std::exp(one.evidence - evidence);
            if (habits[h].begun == BegunWith::any_fret) disorderly += weight;
            for (std::size_t k = 0; k < chain.size(); ++k) {
                for (std::size_t s = 0; s < one.shares[k].size(); ++s)
                    shares_[chain[k]][s] += weight * one.shares[k][s];
            }
        }
        if (disorderly <= 1.0 - decided) return;
        for (const std::size_t i : chain)
            enough_[i] = decided_out_of_order;
    }

    /// What a habit makes of the notes of a recording, and how well it explains them.
    struct Weighed {
        double evidence;
        std::vector<std::vector<double>> shares;  // by note and state
    };

    [[nodiscard]] Weighed weighed(const std::vector<std::size_t>& chain, const PluckHabit& habit) const {
        std::vector<std::vector<double>> forward;
        for (std::size_t k = 0; k < chain.size(); ++k) {
            auto& now = forward.emplace_back();
            for (const Place& to : states_[chain[k]]) {
                double sum = k == 0 ? begin(habit, to) : impossible;
                for (std::size_t s = 0; k > 0 && s < forward[k - 1].size(); ++s)
                    sum = log_sum(sum, forward[k - 1][s] + step(habit, states_[chain[k - 1]][s], to,
                                                                semitones(chain[k - 1], chain[k])));
                now.push_back(sum + sound_says(notes_[chain[k]], to));
            }
        }
        Weighed result{impossible, std::vector<std::vector<double>>(chain.size())};
        for (const double end : forward.back())
            result.evidence = log_sum(result.evidence, end);
        std::vector<double> backward(states_[chain.back()].size(), 0.0);
        for (std::size_t k = chain.size(); k-- > 0;) {
            const auto& states = states_[chain[k]];
            if (k + 1 < chain.size()) {
                const auto& later = states_[chain[k + 1]];
                std::vector<double> here(states.size(), impossible);
                for (std::size_t s = 0; s < states.size(); ++s) {
                    for (std::size_t t = 0; t < later.size(); ++t) {
                        here[s] = log_sum(
                            here[s], backward[t] +
                                         step(habit, states[s], later[t], semitones(chain[k], chain[k + 1])) +
                                         sound_says(notes_[chain[k + 1]], later[t]));
                    }
                }
                backward = here;
            }
            for (std::size_t s = 0; s < states.size(); ++s)
                result.shares[k].push_back(std::exp(forward[k][s] + backward[s] - result.evidence));
        }
        return result;
    }

    void decide(std::size_t i, Recognition& result) const {
        RecognisedNote& note = result.notes[i];
        const auto& states = states_[i];
        const HeardNote& heard = notes_[i];
        if (states.empty()) {
            if (!heard.reading) return;
            result.warnings.push_back(
                {WarningCode::unknown_note, heard.start, heard.given_string, heard.recording,
                 fmt::format("{} fits no fret of {}; tune first, or check --tuning, --frets and --capo",
                             note_name(heard.reading->frequency, instrument_.a4),
                             heard.given_string ? fmt::format("string {}", *heard.given_string)
                                                : std::string{"any string"})});
            return;
        }
        const auto best = static_cast<std::size_t>(std::max_element(shares_[i].begin(), shares_[i].end()) -
                                                   shares_[i].begin());
        if (shares_[i][best] >= enough_[i]) {
            note.string = states[best].string;
            note.fret = states[best].fret;
            return;
        }
        for (std::size_t s = 0; s < states.size(); ++s) {
            if (shares_[i][s] >= 0.5 * (1.0 - decided))
                note.either.push_back({states[s].string, states[s].fret});
        }
    }

    /// Of each string the notes at the 12th fret that were touched.
    void find_harmonics(Recognition& result) const {
        for (const InstrumentString& string : instrument_.strings) {
            std::vector<OddPartials> others;
            for (std::size_t i = 0; i < notes_.size(); ++i) {
                const RecognisedNote& note = result.notes[i];
                if (note.string == string.number && note.fret != 12)
                    others.push_back(odd_partials(*notes_[i].reading));
            }
            for (std::size_t i = 0; i < notes_.size(); ++i) {
                RecognisedNote& note = result.notes[i];
                if (note.string != string.number || note.fret != 12) continue;
                const OddPartials mine = odd_partials(*notes_[i].reading);
                const auto beside = std::count_if(
                    others.begin(), others.end(),
                    [&](const OddPartials& other) { return sounds_touched_beside(mine, other); });
                const bool loud = mine.heard && mine.level > strongest_of_other_strings;
                note.harmonic = others.empty()
                                    ? loud
                                    : mine.heard && 2 * beside > static_cast<std::ptrdiff_t>(others.size());
            }
        }
    }

    /// One question a recording: what stayed in doubt between the same strings goes together.
    void ask(Recognition& result) const {
        using Strings = std::vector<int>;
        std::map<int, std::map<Strings, std::vector<std::size_t>>> doubtful;  // notes, by recording
        for (std::size_t i = 0; i < notes_.size(); ++i) {
            Strings strings;
            for (const NeckNote place : result.notes[i].either)
                strings.push_back(place.string);
            if (!strings.empty()) doubtful[notes_[i].recording][strings].push_back(i);
        }
        for (const auto& [recording, groups] : doubtful) {
            std::string questions;
            std::size_t first = notes_.size();
            for (const auto& [strings, notes] : groups) {
                questions += (questions.empty() ? "" : "; ") + question(result, notes);
                first = std::min(first, notes.front());
            }
            result.warnings.push_back(
                {WarningCode::ambiguous_string, notes_[first].start, std::nullopt, recording,
                 fmt::format("{}? Begin every string with its open note, or record it by itself and say "
                             "--string",
                             questions)});
        }
    }

    /// "were B2 and C#3 string 5 at frets 2 and 4 or string 6 at frets 7 and 9", each note once.
    [[nodiscard]] std::string question(const Recognition& result,
                                       const std::vector<std::size_t>& notes) const {
        std::map<int, std::size_t> by_fret;  // of the first string they could be of
        for (const std::size_t i : notes)
            by_fret.emplace(result.notes[i].either.front().fret, i);
        std::vector<std::string> names;
        for (const auto& [fret, i] : by_fret)
            names.push_back(note_name(notes_[i].reading->frequency, instrument_.a4));
        std::vector<std::string> places;
        for (std::size_t p = 0; p < result.notes[notes.front()].either.size(); ++p) {
            std::vector<int> frets;
            for (const auto& [fret, i] : by_fret)
                frets.push_back(result.notes[i].either[p].fret);
            places.push_back(in_words(result.notes[notes.front()].either[p].string, frets));
        }
        return fmt::format("{} {} {}", names.size() == 1 ? "was" : "were", listed(names),
                           fmt::join(places, " or "));
    }

    std::span<const HeardNote> notes_;
    const Instrument& instrument_;
    int frets_;
    double offset_;
    std::vector<std::vector<Place>> states_;
    std::vector<std::vector<double>> shares_;
    std::vector<double> enough_;  // of a share, to be believed
    std::map<int, double> stiffness_;
};

}  // namespace

Recognition recognise_notes(std::span<const HeardNote> notes, const Instrument& instrument, int frets) {
    assert(frets >= 1 && frets <= 36);
    return Reader{notes, instrument, frets}.read();
}

}  // namespace midspan
