// pairing.cpp: notes to strings, strings to pairs, and what is said about the rest.
//
// Room: comparison. Pure.
#include "midspan/comparison/pairing.hpp"

#include <fmt/core.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <string>

#include "comparison/kind_evidence.hpp"
#include "comparison/octave_order.hpp"
#include "comparison/string_choice.hpp"

namespace midspan {
namespace {

// A note this far from the others of its string was made at another fret: a fret is 100 cents, and an error
// of intonation that a saddle could cure stays well below.
constexpr Cents wrong_fret{80.0};

// Two kinds of note that agree this well may be one kind.
constexpr Cents alike{1.0};

Cents middle_of(std::vector<Cents> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

class Sorting {
public:
    Sorting(std::span<const HeardNote> notes, const Instrument& instrument, PluckOrder order)
        : notes_{notes}, instrument_{instrument}, order_{order}, choices_{choose_strings(notes, instrument)} {
        pairing_.places.resize(notes.size());
        for (const InstrumentString& string : instrument.strings) {
            pairing_.strings.push_back({string.number, {}, {}, {}, {}});
        }
    }

    Pairing sorted() && {
        for (const InstrumentString& string : instrument_.strings) {
            leave_out_wrong_frets(string.number);
        }
        for (std::size_t i = 0; i < notes_.size(); ++i) {
            place(i);
        }
        for (StringNotes& string : pairing_.strings) {
            tell_octaves(string);
        }
        for (const std::size_t i : ambiguous_) {
            mark_ambiguous(i);
        }
        return std::move(pairing_);
    }

private:
    void warn(WarningCode code, std::size_t note, std::optional<int> string, std::string message) {
        pairing_.warnings.push_back(
            {code, notes_[note].start, string, notes_[note].recording, std::move(message)});
    }

    /// The notes chosen for a string beyond doubt.
    std::vector<std::size_t> notes_of(int string) const {
        std::vector<std::size_t> own;
        for (std::size_t i = 0; i < notes_.size(); ++i) {
            if (choices_[i] && choices_[i]->clear && choices_[i]->string == string) own.push_back(i);
        }
        return own;
    }

    std::vector<Cents> off_of(std::span<const std::size_t> own) const {
        std::vector<Cents> off;
        for (const std::size_t i : own) {
            off.push_back(choices_[i]->off);
        }
        return off;
    }

    void leave_out_wrong_frets(int string) {
        const auto own = notes_of(string);
        if (own.empty()) return;
        auto off = off_of(own);
        std::vector<Cents> in_tune;
        std::copy_if(off.begin(), off.end(), std::back_inserter(in_tune),
                     [](Cents c) { return magnitude(c) <= in_tune_reach; });
        const Cents usual = middle_of(in_tune.empty() ? off : in_tune);
        for (const std::size_t i : own) {
            if (magnitude(choices_[i]->off - usual) <= wrong_fret) continue;
            choices_[i].reset();
            left_out_.push_back(i);
            warn(WarningCode::unknown_note, i, string,
                 "a note far from the others of its string; check the fret, or the tuning if it was changed "
                 "in between, and pluck again");
        }
    }

    void place(std::size_t i) {
        const HeardNote& note = notes_[i];
        if (!note.reading || is_left_out(i)) return;
        const auto& choice = choices_[i];
        if (choice && choice->clear) {
            pairing_.places[i].string = choice->string;
            if (choice->in != Register::open) return;
            pairing_.places[i].kind = NoteKind::open;
            if (note.usable) strings_at(choice->string).open.push_back(i);
        } else if (choice && magnitude(choice->off) <= in_tune_reach) {
            ambiguous_.push_back(i);
            std::vector<int> strings = choice->others;
            strings.push_back(choice->string);
            std::sort(strings.rbegin(), strings.rend());
            warn(WarningCode::ambiguous_string, i, std::nullopt,
                 fmt::format("a note that strings {} can make, and nothing around it tells which did; record "
                             "that string on its own and name it with --string",
                             fmt::join(strings, " and ")));
        } else {
            warn(WarningCode::unknown_note, i, std::nullopt,
                 note.given_string
                     ? "a note that is not of the string this recording should hold; check --string, the "
                       "tuning and the fret"
                     : "a note of no string of this tuning; check the tuning and the fret, and pluck again");
        }
    }

    bool is_left_out(std::size_t i) const {
        return std::find(left_out_.begin(), left_out_.end(), i) != left_out_.end();
    }

    StringNotes& strings_at(int string) { return pairing_.strings[static_cast<std::size_t>(string - 1)]; }

    /// The octave notes of a string in the order heard, each with what came before it.
    std::vector<OctaveNote> octaves_of(int string) const {
        std::vector<OctaveNote> octaves;
        Interruption since = Interruption::none;
        for (std::size_t i = 0; i < notes_.size(); ++i) {
            if (i > 0 && notes_[i].recording != notes_[i - 1].recording) since = Interruption::other;
            const bool own = pairing_.places[i].string == string;
            if (own && choices_[i]->in == Register::octave) {
                octaves.push_back({i, octaves.empty() ? Interruption::other : since});
                since = Interruption::none;
            } else if (!own) {
                since = std::max(since, notes_[i].reading ? Interruption::other : Interruption::no_note);
            }
        }
        return octaves;
    }

    std::vector<PitchReading> readings(std::span<const std::size_t> which) const {
        std::vector<PitchReading> all;
        for (const std::size_t i : which) {
            all.push_back(*notes_[i].reading);
        }
        return all;
    }

    Cents mean_off(std::span<const std::size_t> which) const {
        Cents mean{0.0};
        for (const std::size_t i : which) {
            mean = mean + (1.0 / static_cast<double>(which.size())) * choices_[i]->off;
        }
        return mean;
    }

    void tell_octaves(StringNotes& string) {
        const auto octaves = octaves_of(string.string);
        if (octaves.empty()) return;
        OctaveOrder told = order_octaves(notes_, octaves, order_);
        for (std::size_t k = 0; k < octaves.size(); ++k) {
            pairing_.places[octaves[k].note].kind = told.kinds[k];
        }

        const OddPartialsSay sound = odd_partials_say(readings(told.harmonics), readings(told.fretted));
        const bool one_kind =
            octaves.size() == 1 || std::all_of(told.kinds.begin(), told.kinds.end(),
                                               [](auto kind) { return kind == NoteKind::harmonic; });
        const bool all_touched = std::all_of(octaves.begin(), octaves.end(), [this](const OctaveNote& o) {
            return odd_partials(*notes_[o.note].reading).heard;
        });
        const bool paired_alike = !told.harmonics.empty() && !told.fretted.empty() &&
                                  magnitude(mean_off(told.fretted) - mean_off(told.harmonics)) < alike;
        if (one_kind) {
            one_kind_only(string, octaves);
        } else if (sound == OddPartialsSay::all_are_harmonics && all_touched && paired_alike) {
            for (const OctaveNote& octave : octaves) {
                take_as(string, octave.note, NoteKind::harmonic);
            }
        } else {
            string.harmonics = std::move(told.harmonics);
            string.fretted = std::move(told.fretted);
            string.order_contradicted =
                told.leftover_contradicts || contradicted(string, sound, told.pitch_contradicts);
            if (all_touched && paired_alike && sound == OddPartialsSay::nothing) {
                warn(WarningCode::kinds_alike, octaves.front().note, string.string,
                     "every note of it has weak odd partials, as harmonics have; if you did not press the "
                     "12th fret for every second one, pluck it again");
            }
            doubt_clean_harmonics(string);
            say_leftovers(string.string, told.leftovers);
        }
    }

    void take_as(StringNotes& string, std::size_t note, NoteKind kind) {
        pairing_.places[note].kind = kind;
        if (notes_[note].usable)
            (kind == NoteKind::harmonic ? string.harmonics : string.fretted).push_back(note);
    }

    /// No pair at all: whatever there is, is called what it sounds like, and a harmonic if that says nothing.
    void one_kind_only(StringNotes& string, std::span<const OctaveNote> octaves) {
        const bool surely_fretted = std::none_of(octaves.begin(), octaves.end(), [this](const OctaveNote& o) {
            const PitchReading& reading = *notes_[o.note].reading;
            return odd_partials(reading).heard ||
                   reading.odd_partials_floor > weakest_of_a_touch - clear_of_the_floor;
        });
        for (const OctaveNote& octave : octaves) {
            take_as(string, octave.note, surely_fretted ? NoteKind::fretted : NoteKind::harmonic);
        }
    }

    bool contradicted(const StringNotes& string, OddPartialsSay sound, bool pitch_contradicts) const {
        if (string.harmonics.empty() || string.fretted.empty()) return false;
        return sound == OddPartialsSay::otherwise ||
               (pitch_contradicts && sound != OddPartialsSay::as_ordered);
    }

    /// A harmonic without odd partials among others that have them may be an open note of another string.
    void doubt_clean_harmonics(StringNotes& string) {
        for (const std::size_t i : string.harmonics) {
            const OddPartials clean = odd_partials(*notes_[i].reading);
            const bool stands_out = std::any_of(
                string.harmonics.begin(), string.harmonics.end(), [this, clean](std::size_t other) {
                    return sounds_touched_beside(odd_partials(*notes_[other].reading), clean);
                });
            if (clean.heard || !stands_out || !in_tune_with_another(i)) continue;
            string.ambiguous = true;
            warn(WarningCode::ambiguous_string, i, string.string,
                 "a note that does not sound touched as its other harmonics do, and that another string can "
                 "make too; record this string on its own and name it with --string");
            return;
        }
    }

    bool in_tune_with_another(std::size_t i) const {
        return !notes_[i].given_string &&
               std::any_of(instrument_.strings.begin(), instrument_.strings.end(),
                           [this, i](const InstrumentString& other) {
                               return other.number != choices_[i]->string &&
                                      magnitude(interval(other.open_frequency,
                                                         notes_[i].reading->frequency)) <= in_tune_reach;
                           });
    }

    void say_leftovers(int string, std::span<const OctaveOrder::Leftover> leftovers) {
        for (const auto& [note, why] : leftovers) {
            std::string message;
            switch (why) {
                case Unpaired::left_over:
                    message =
                        "a note was left over without a partner; pluck as many fretted notes as harmonics, "
                        "one string after the other";
                    break;
                case Unpaired::partner_unusable:
                    message = "the note that belongs to it is not usable; pluck the pair again";
                    break;
                case Unpaired::count_unclear:
                    message =
                        "an odd number of notes, and nothing in their sound tells which kind is missing; "
                        "pluck "
                        "this string again, harmonic and fretted in turn";
                    break;
                case Unpaired::order_unknown:
                    message =
                        "after the interruption nothing tells harmonic from fretted note; pluck this string "
                        "again without another in between";
                    break;
            }
            warn(WarningCode::unpaired, note, string, std::move(message));
        }
    }

    /// Whoever could have made an octave note of it is in doubt; whoever could only have been plucked open
    /// is in doubt when nothing else of it was heard.
    void mark_ambiguous(std::size_t i) {
        std::vector<int> strings = choices_[i]->others;
        strings.push_back(choices_[i]->string);
        for (const int string : strings) {
            const Hertz open = instrument_.string(string).open_frequency;
            const bool as_octave = interval(open, notes_[i].reading->frequency) > Cents{600.0};
            StringNotes& own = strings_at(string);
            if (as_octave || own.harmonics.empty() || own.fretted.empty()) own.ambiguous = true;
        }
    }

    std::span<const HeardNote> notes_;
    const Instrument& instrument_;
    PluckOrder order_;
    std::vector<std::optional<StringChoice>> choices_;
    std::vector<std::size_t> left_out_;
    std::vector<std::size_t> ambiguous_;
    Pairing pairing_;
};

}  // namespace

Pairing pair_notes(std::span<const HeardNote> notes, const Instrument& instrument, PluckOrder order) {
    assert(std::all_of(notes.begin(), notes.end(), [&instrument](const HeardNote& note) {
        const auto strings = static_cast<int>(instrument.strings.size());
        return (!note.given_string || (*note.given_string >= 1 && *note.given_string <= strings)) &&
               (!note.reading || note.reading->frequency > Hertz{0.0});
    }));
    return Sorting{notes, instrument, order}.sorted();
}

}  // namespace midspan
