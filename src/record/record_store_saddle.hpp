// record_store_saddle.hpp: a string and its saddle as columns, of an instrument and of a reading alike.
//
// Room: record, private. Edge: the disk. May include: ground, instrument.
#pragma once

#include "midspan/instrument/instrument.hpp"
#include "record/record_store_values.hpp"

namespace midspan {

/// Seven columns: number, open_note, scale_length_mm and the four of the saddle.
inline void fill_string(Filling& filling, const InstrumentString& string) {
    filling << string.number << string.open_note.text() << string.scale_length << string.saddle.thread_pitch
            << string.saddle.clockwise_is_toward_tail << string.saddle.travel_toward_nut
            << string.saddle.travel_toward_tail;
}

inline InstrumentString take_string(Row& row, Hertz a4) {
    const int number = row.take<int>();
    auto note = NoteName::parse(row.take<std::string>());
    if (!note) throw UnsoundRow{};
    const Hertz frequency = note.value().frequency(a4);
    return {number, std::move(note).value(), frequency, row.take<Millimetres>(),
            Saddle{row.take<std::optional<Millimetres>>(), row.take<std::optional<bool>>(),
                   row.take<std::optional<Millimetres>>(), row.take<std::optional<Millimetres>>()}};
}

}  // namespace midspan
