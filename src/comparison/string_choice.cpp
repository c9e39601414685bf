// string_choice.cpp: the simplest story that explains all notes.
//
// Room: comparison. Pure.
#include "comparison/string_choice.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <limits>

#include "comparison/kind_evidence.hpp"

namespace midspan {
namespace {

// The points. They only have to rank stories as a player would: what is usual is free, what is unusual costs
// a point, what nearly never happens costs several.
constexpr double never = std::numeric_limits<double>::infinity();
constexpr double open_plucked_again = 1.0;
constexpr double open_after_octave = 0.5;
constexpr double to_the_next_string = 1.0;
constexpr double over_a_string = 1.5;
constexpr double octave_left_alone = 2.0;
constexpr double open_with_odd_partials = 4.0;
constexpr double out_of_tune = 3.0;
constexpr double clear_margin = 2.0;

/// Where the player is: on an open string, or behind an odd or even number of octave notes of it.
enum class At { open, octave_odd, octave_even };
constexpr std::array at_all{At::open, At::octave_odd, At::octave_even};

struct State {
    int string;
    At at;
};

constexpr Register register_of(At at) { return at == At::open ? Register::open : Register::octave; }

double leaving(At at) { return at == At::octave_odd ? octave_left_alone : 0.0; }

double first_step(State to) { return to.at == At::octave_even ? never : 0.0; }

double step(State from, State to) {
    if (from.string != to.string) {
        const bool next = std::abs(from.string - to.string) == 1;
        return leaving(from.at) + (next ? to_the_next_string : over_a_string) + first_step(to);
    }
    if (to.at == At::open) return from.at == At::open ? open_plucked_again : open_after_octave;
    // Each octave note makes an odd number even and an even one odd; none counts as even.
    const At expected = from.at == At::octave_odd ? At::octave_even : At::octave_odd;
    return to.at == expected ? 0.0 : never;
}

Cents off_from(const InstrumentString& string, Register in, Hertz frequency) {
    const double octave = in == Register::octave ? 2.0 : 1.0;
    return interval(octave * string.open_frequency, frequency);
}

/// The stories of one session, note by note and state by state.
class Stories {
public:
    Stories(std::span<const HeardNote> notes, const Instrument& instrument)
        : notes_{notes}, instrument_{instrument} {
        for (const InstrumentString& string : instrument.strings) {
            for (const At at : at_all) {
                states_.push_back({string.number, at});
            }
        }
        for (std::size_t i = 0; i < notes.size(); ++i) {
            auto costs = costs_of(notes[i]);
            if (std::any_of(costs.begin(), costs.end(), [](double cost) { return cost < never; })) {
                told_.push_back({i, std::move(costs)});
            }
        }
    }

    std::vector<std::optional<StringChoice>> simplest() const {
        const auto until = costs_until();
        const auto after = costs_after();
        std::vector<std::optional<StringChoice>> choices(notes_.size());
        for (std::size_t k = 0; k < told_.size(); ++k) {
            std::vector<double> whole(states_.size());
            for (std::size_t s = 0; s < states_.size(); ++s) {
                whole[s] = until[k][s] + after[k][s];
            }
            choices[told_[k].note] = choice(notes_[told_[k].note], whole);
        }
        return choices;
    }

private:
    struct Told {
        std::size_t note;
        std::vector<double> costs;  // one a state
    };

    /// What it costs to say that this note was made in each state.
    std::vector<double> costs_of(const HeardNote& note) const {
        std::vector<double> costs(states_.size(), never);
        if (!note.reading) return costs;
        bool any_in_tune = false;
        for (std::size_t s = 0; s < states_.size(); ++s) {
            const auto [number, at] = states_[s];
            if (note.given_string && *note.given_string != number) continue;
            const Cents off =
                magnitude(off_from(instrument_.string(number), register_of(at), note.reading->frequency));
            if (off > farthest_reach) continue;
            const bool in_tune = off <= in_tune_reach;
            any_in_tune = any_in_tune || in_tune;
            costs[s] = off / in_tune_reach + (in_tune ? 0.0 : out_of_tune);
            if (at == At::open && odd_partials(*note.reading).heard) costs[s] += open_with_odd_partials;
        }
        if (any_in_tune) {  // then nobody thinks of a string that is out of tune
            for (std::size_t s = 0; s < states_.size(); ++s) {
                const auto [number, at] = states_[s];
                const Cents off =
                    off_from(instrument_.string(number), register_of(at), note.reading->frequency);
                if (magnitude(off) > in_tune_reach) costs[s] = never;
            }
        }
        return costs;
    }

    /// The cheapest way to each state at each note, that note included.
    std::vector<std::vector<double>> costs_until() const {
        std::vector<std::vector<double>> until;
        for (std::size_t k = 0; k < told_.size(); ++k) {
            std::vector<double> here(states_.size(), never);
            for (std::size_t s = 0; s < states_.size(); ++s) {
                if (told_[k].costs[s] == never) continue;
                double way = k == 0 ? first_step(states_[s]) : never;
                for (std::size_t from = 0; k > 0 && from < states_.size(); ++from) {
                    if (until[k - 1][from] == never) continue;
                    way = std::min(way, until[k - 1][from] + step(states_[from], states_[s]));
                }
                here[s] = way + told_[k].costs[s];
            }
            until.push_back(std::move(here));
        }
        return until;
    }

    /// The cheapest way from each state at each note to the end.
    std::vector<std::vector<double>> costs_after() const {
        std::vector<std::vector<double>> after(told_.size(), std::vector<double>(states_.size(), never));
        for (std::size_t k = told_.size(); k-- > 0;) {
            for (std::size_t s = 0; s < states_.size(); ++s) {
                if (k + 1 == told_.size()) {
                    after[k][s] = leaving(states_[s].at);
                    continue;
                }
                if (told_[k].costs[s] == never) continue;
                for (std::size_t to = 0; to < states_.size(); ++to) {
                    if (told_[k + 1].costs[to] == never) continue;
                    after[k][s] = std::min(after[k][s], step(states_[s], states_[to]) +
                                                            told_[k + 1].costs[to] + after[k + 1][to]);
                }
            }
        }
        return after;
    }

    StringChoice choice(const HeardNote& note, const std::vector<double>& whole) const {
        const auto best = std::min_element(whole.begin(), whole.end());
        const State state = states_[static_cast<std::size_t>(best - whole.begin())];
        const Register in = register_of(state.at);
        StringChoice chosen{state.string,
                            in,
                            off_from(instrument_.string(state.string), in, note.reading->frequency),
                            true,
                            {}};
        for (std::size_t s = 0; s < states_.size(); ++s) {
            const int other = states_[s].string;
            if (other == state.string || whole[s] >= *best + clear_margin) continue;
            chosen.clear = false;
            if (std::find(chosen.others.begin(), chosen.others.end(), other) == chosen.others.end()) {
                chosen.others.push_back(other);
            }
        }
        return chosen;
    }

    std::span<const HeardNote> notes_;
    const Instrument& instrument_;
    std::vector<State> states_;
    std::vector<Told> told_;
};

}  // namespace

std::vector<std::optional<StringChoice>> choose_strings(std::span<const HeardNote> notes,
                                                        const Instrument& instrument) {
    return Stories{notes, instrument}.simplest();
}

}  // namespace midspan
