// kind_evidence.cpp: odd partials of the open string, note against note.
//
// Room: comparison. Pure.
#include "comparison/kind_evidence.hpp"

#include <algorithm>
#include <vector>

namespace midspan {
namespace {

std::vector<OddPartials> all_of(std::span<const PitchReading> readings) {
    std::vector<OddPartials> all;
    for (const PitchReading& reading : readings) {
        all.push_back(odd_partials(reading));
    }
    return all;
}

Decibels middle_level(std::vector<OddPartials> notes) {
    const auto middle = notes.begin() + static_cast<std::ptrdiff_t>(notes.size() / 2);
    std::nth_element(notes.begin(), middle, notes.end(),
                     [](const OddPartials& a, const OddPartials& b) { return a.level < b.level; });
    return middle->level;
}

/// Whether more than half of `notes` show odd partials.
bool mostly_heard(const std::vector<OddPartials>& notes) {
    const auto heard = std::count_if(notes.begin(), notes.end(), [](const auto& note) { return note.heard; });
    return 2 * heard > static_cast<std::ptrdiff_t>(notes.size());
}

}  // namespace

OddPartials odd_partials(const PitchReading& reading) {
    const Decibels level = std::max(reading.odd_partials, reading.odd_partials_floor);
    const bool clear = reading.odd_partials > reading.odd_partials_floor + clear_of_the_floor;
    return {clear && reading.odd_partials > weakest_of_a_touch, level};
}

bool sounds_touched_beside(const OddPartials& a, const OddPartials& b) {
    return a.heard && a.level - b.level >= clear_difference;
}

OddPartialsSay odd_partials_say(std::span<const PitchReading> harmonics,
                                std::span<const PitchReading> fretted) {
    if (harmonics.empty() || fretted.empty()) return OddPartialsSay::nothing;
    const auto touched = all_of(harmonics);
    const auto pressed = all_of(fretted);

    // Both kinds swapped as a whole.
    const Decibels difference = middle_level(touched) - middle_level(pressed);
    if (mostly_heard(pressed) && -difference >= clear_difference) return OddPartialsSay::otherwise;

    // One note in the wrong place: it sounds touched beside a harmonic that does not, or it is as strong as
    // a touch while its own kind is clean.
    for (const OddPartials& note : pressed) {
        const auto clean_beside = [&note](const OddPartials& other) {
            return sounds_touched_beside(note, other);
        };
        if (std::any_of(touched.begin(), touched.end(), clean_beside)) return OddPartialsSay::otherwise;
        if (note.level > strongest_of_other_strings &&
            std::any_of(pressed.begin(), pressed.end(), clean_beside)) {
            return OddPartialsSay::otherwise;
        }
    }

    if (mostly_heard(touched) && difference >= clear_difference) return OddPartialsSay::as_ordered;
    const auto is_touch = [](const OddPartials& note) {
        return note.heard && note.level > strongest_of_other_strings;
    };
    if (std::all_of(touched.begin(), touched.end(), is_touch) &&
        std::all_of(pressed.begin(), pressed.end(), is_touch)) {
        return OddPartialsSay::all_are_harmonics;
    }
    return OddPartialsSay::nothing;
}

}  // namespace midspan
