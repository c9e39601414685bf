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

/// What a string may be tuned to, and A4: beyond it a name is a slip of the pen.
inline constexpr Hertz lowest_open_note{24.0};
inline constexpr Hertz highest_open_note{840.0};
inline constexpr Hertz lowest_a4{380.0};
inline constexpr Hertz highest_a4{500.0};

/// An instrument from plain options. What makes no sense is a Fault::usage that names it.
///
/// tuning         1 to 12 note names with commas, low to high as a player says it; the last is string 1.
///                Re-entrant tunings ("G4,C4,E4,A4") and courses ("E3,E2,A3,A2,...") are named in the order
///                they lie on the neck. Each open note 24 to 840 Hz
/// scale_lengths  one for all strings, or one a string in the order of the tuning (multi-scale); 200 to
///                1,500 mm
/// a4             380 to 500 Hz
/// saddle         the same for all strings
[[nodiscard]] Result<Instrument> make_instrument(std::string_view tuning,
                                                 std::span<const Millimetres> scale_lengths, Hertz a4,
                                                 const Saddle& saddle);

/// An instrument from the text of a TOML file; `file_name` is only for messages. All of it:
///
///     name = "Bench guitar"
///     tuning = "E2,A2,D3,G3,B3,E4"      # low to high; or ["E2", "A2", ...]; standard when left out
///     scale_length = "25.5in"           # a number is millimetres; one for all strings, or for a
///                                       # multi-scale neck one a string: [686, 678, ...], as the tuning
///     a4 = 440                          # hertz; 440 when left out
///     left_handed = false               # false when left out
///
///     [bridge]                          # what all saddles have in common; each line may be left out
///     thread = "4-40"                   # by name, or the pitch in millimetres
///     clockwise = "toward_tail"         # where a clockwise turn moves the saddle; or "toward_nut"
///     travel_toward_nut = 3.0           # free way left; a number is millimetres
///     travel_toward_tail = "1/8in"
///
///     [[string]]                        # what one string's saddle has of its own; any number of these
///     number = 6                        # 1 is the highest-pitched
///     travel_toward_tail = 1.5
///
/// Only scale_length is needed. A key that is not listed here, one of the wrong kind, and whatever
/// make_instrument refuses are a Fault::input that names the file and the key.
[[nodiscard]] Result<Instrument> parse_instrument(std::string_view toml, std::string_view file_name);

}  // namespace midspan
