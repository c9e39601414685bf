// instrument.cpp: strings, scale lengths and saddles to one instrument.
//
// Room: instrument. Pure.
#include "midspan/instrument/instrument.hpp"

#include <fmt/core.h>

#include "instrument/typed_text.hpp"
#include "midspan/instrument/length.hpp"

namespace midspan {
namespace {

// Every range is asked for the good case, so that NaN fails it.
bool between(Hertz f, Hertz lowest, Hertz highest) { return f >= lowest && f <= highest; }

}  // namespace

Result<Instrument> make_instrument(std::string_view tuning, std::span<const Millimetres> scale_lengths,
                                   Hertz a4, const Saddle& saddle) {
    constexpr std::size_t most_strings = 12;
    const auto names = between_commas(tuning);
    const std::string of_tuning = "tuning " + quoted(tuning);
    if (names.empty() || names.size() > most_strings) {
        return Error{Fault::usage, of_tuning, fmt::format("{} strings", names.size()),
                     "name 1 to 12, low to high, with commas: E2,A2,D3,G3,B3,E4"};
    }
    if (scale_lengths.size() != 1 && scale_lengths.size() != names.size()) {
        return Error{Fault::usage, "scale length",
                     fmt::format("{} lengths for a tuning of {} strings", scale_lengths.size(), names.size()),
                     "give one for all strings, or one a string in the order of the tuning"};
    }
    for (const Millimetres length : scale_lengths) {
        if (length >= shortest_scale_length && length <= longest_scale_length) continue;
        return Error{Fault::usage, fmt::format("scale length {:g} mm", length.value()),
                     "outside 200 to 1,500 mm", "measure from the nut to the saddle line"};
    }
    if (!between(a4, lowest_a4, highest_a4)) {
        return Error{Fault::usage, fmt::format("A4 at {:g} Hz", a4.value()), "outside 380 to 500 Hz",
                     "440 is standard, 415 baroque"};
    }

    Instrument instrument{"", a4, {}};
    for (std::size_t number = 1; number <= names.size(); ++number) {
        const std::size_t said = names.size() - number;  // low to high: the last named is string 1
        auto note = NoteName::parse(names[said]);
        if (!note) return note.error();
        const Hertz frequency = note.value().frequency(a4);
        if (!between(frequency, lowest_open_note, highest_open_note)) {
            return Error{Fault::usage, "note " + quoted(names[said]),
                         fmt::format("no string is tuned to {:.4g} Hz", frequency.value()),
                         "check the octave: E2 is the low E of a guitar, E1 that of a bass"};
        }
        instrument.strings.push_back({static_cast<int>(number), std::move(note).value(), frequency,
                                      scale_lengths.size() == 1 ? scale_lengths[0] : scale_lengths[said],
                                      saddle});
    }
    return instrument;
}

}  // namespace midspan
