// bridge.cpp: screw threads by name.
//
// Room: instrument. Pure.
#include "midspan/instrument/bridge.hpp"

#include <array>
#include <string>
#include <utility>

#include "instrument/typed_text.hpp"
#include "midspan/instrument/length.hpp"

namespace midspan {
namespace {

constexpr Millimetres per_inch(double threads) { return (1.0 / threads) * millimetres_per_inch; }

constexpr std::array<std::pair<std::string_view, Millimetres>, 9> threads{{
    {"M2", Millimetres{0.40}},
    {"M2.5", Millimetres{0.45}},
    {"M3", Millimetres{0.50}},
    {"M4", Millimetres{0.70}},
    {"4-40", per_inch(40)},
    {"5-40", per_inch(40)},
    {"6-32", per_inch(32)},
    {"8-32", per_inch(32)},
    {"10-32", per_inch(32)},
}};

}  // namespace

Result<Millimetres> parse_thread_pitch(std::string_view text) {
    std::string name{trimmed(text)};
    if (name.starts_with('#')) name.erase(0, 1);
    if (name.starts_with('m')) name.front() = 'M';
    for (const auto& [known, pitch] : threads) {
        if (name == known) return pitch;
    }

    const auto length = parse_length(name);
    const std::string subject = "thread " + quoted(text);
    const std::string remedy =
        "name it (M2, M2.5, M3, M4, 4-40, 5-40, 6-32, 8-32, 10-32), or measure ten turns and write a tenth "
        "of that as 0.5 or 0.02in";
    if (!length) return Error{Fault::usage, subject, "no thread known by that name", remedy};
    if (length.value() < finest_thread_pitch || length.value() > coarsest_thread_pitch) {
        return Error{Fault::usage, subject, "a pitch outside 0.1 to 2 mm a turn", remedy};
    }
    return length.value();
}

}  // namespace midspan
