// parsers_fuzz.cpp: any text as a note name, a length, a thread, a tuning and an instrument file.
#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <string_view>

#include "fuzz/must.hpp"
#include "midspan/instrument/instrument.hpp"
#include "midspan/instrument/length.hpp"

using namespace midspan;
using midspan::fuzz::must;

namespace {

/// The value, if there is one; an error must be readable.
template <class Value>
const Value* value_of(const Result<Value>& result) {
    if (result) return &result.value();
    fuzz::must_be_readable(result.error());
    return nullptr;
}

void must_make_sense(const Instrument& instrument) {
    must(instrument.strings.size() >= 1 && instrument.strings.size() <= 12, "1 to 12 strings");
    must(instrument.a4 >= lowest_a4 && instrument.a4 <= highest_a4, "A4 is in its range");
    int number = 1;
    for (const InstrumentString& string : instrument.strings) {
        must(string.number == number++, "strings are numbered from 1");
        must(string.open_frequency >= lowest_open_note && string.open_frequency <= highest_open_note,
             "an open string is in its range");
        must(string.scale_length >= Millimetres{200.0} && string.scale_length <= Millimetres{1'500.0},
             "a scale length is in its range");
        for (const auto& length : {string.saddle.thread_pitch, string.saddle.travel_toward_nut,
                                   string.saddle.travel_toward_tail}) {
            must(!length || (std::isfinite(length->value()) && length->value() >= 0.0),
                 "what is known of a saddle is a length");
        }
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    const std::string_view text{reinterpret_cast<const char*>(bytes), size};
    if (const auto result = NoteName::parse(text); const NoteName* note = value_of(result)) {
        const double frequency = note->frequency(Hertz{440.0}).value();
        must(std::isfinite(frequency) && frequency > 0.0, "a note has a frequency");
    }
    if (const auto result = parse_length(text); const Millimetres* length = value_of(result)) {
        must(std::isfinite(length->value()), "a length is finite");
    }
    if (const auto result = parse_scale_length(text); const Millimetres* length = value_of(result)) {
        must(*length >= Millimetres{200.0} && *length <= Millimetres{1'500.0},
             "a scale length is in its range");
    }
    if (const auto result = parse_thread_pitch(text); const Millimetres* pitch = value_of(result)) {
        must(std::isfinite(pitch->value()) && pitch->value() > 0.0, "a thread has a pitch");
    }
    constexpr std::array scale_length{Millimetres{648.0}};
    if (const auto result = make_instrument(text, scale_length, Hertz{440.0}, Saddle{});
        const Instrument* instrument = value_of(result)) {
        must_make_sense(*instrument);
    }
    if (const auto result = parse_instrument(text, "bench.toml");
        const Instrument* instrument = value_of(result)) {
        must_make_sense(*instrument);
    }
    return 0;
}
