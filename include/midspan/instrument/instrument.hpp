// instrument.hpp: what lies on the bench.
//
// Room: instrument. Pure. May include: ground.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "midspan/instrument/bridge.hpp"
#include "midspan/instrument/note_name.hpp"
#include "midspan/result.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// One string: where it is tuned, how long it is, and the saddle it runs over.
struct InstrumentString {
    int number;  ///< 1 is the highest-pitched, as the trade counts
    NoteName open_note;
    Hertz open_frequency;      ///< nominal, equal temperament
    Millimetres scale_length;  ///< 200 to 1,500
    Saddle saddle;
};

struct Instrument {
    std::string name;  ///< empty when nobody named it
    Hertz a4;
    std::vector<InstrumentString> strings;  ///< strings[0] is string 1; 1 to 12 of them
    bool left_handed = false;

    /// String `number`, 1 to strings.size().
    [[nodiscard]] const InstrumentString& string(int number) const {
        return strings[static_cast<std::size_t>(number - 1)];
    }
};

/// The tuning most guitars carry, low to high as a player says it.
inline constexpr std::string_view standard_tuning = "E2,A2,D3,G3,B3,E4";

/// An instrument from plain options.
///
/// tuning         note names with commas, low to high as a player says it; the last is string 1
/// scale_lengths  one for all strings, or one a string in the order of the tuning (multi-scale)
/// a4             380 to 500 Hz
/// saddle         the same for all strings
[[nodiscard]] Result<Instrument> make_instrument(std::string_view tuning,
                                                 std::span<const Millimetres> scale_lengths, Hertz a4,
                                                 const Saddle& saddle);

/// An instrument from the text of a TOML file; `file_name` is only for messages. The keys are described
/// in the README under 'An instrument file'.
[[nodiscard]] Result<Instrument> parse_instrument(std::string_view toml, std::string_view file_name);

}  // namespace midspan
