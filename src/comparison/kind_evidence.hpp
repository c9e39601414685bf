// kind_evidence.hpp: what the sound itself says about harmonic or fretted.
//
// Room: comparison, private. Pure. May include: ground, pitch.
#pragma once

#include <span>

#include "midspan/pitch/pitch_reading.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// A touched harmonic leaves odd partials of the open string, mostly 20 to 45 dB below the note; a fretted
/// note has none but what other strings lend it. So one note alone proves little, and two kinds are told
/// apart only by a clear difference between them.
struct OddPartials {
    bool heard;      ///< clearly above what stands between the partials, and not hopelessly weak
    Decibels level;  ///< at most this strong
};

inline constexpr Decibels clear_of_the_floor{10.0};
inline constexpr Decibels weakest_of_a_touch{-55.0};
inline constexpr Decibels strongest_of_other_strings{-45.0};
inline constexpr Decibels clear_difference{10.0};

[[nodiscard]] OddPartials odd_partials(const PitchReading& reading);

/// Whether `a` sounds touched and `b`, by a clear difference, does not.
[[nodiscard]] bool sounds_touched_beside(const OddPartials& a, const OddPartials& b);

/// The order says which notes are harmonics and which fretted; this is what their odd partials say to it.
enum class OddPartialsSay {
    nothing,
    as_ordered,         ///< harmonics clearly have them, fretted notes clearly not
    otherwise,          ///< some fretted note has them, some other note at its side clearly not
    all_are_harmonics,  ///< every note has them, all alike and stronger than other strings could lend
};

/// `harmonics` and `fretted` as the order calls them, of one string.
[[nodiscard]] OddPartialsSay odd_partials_say(std::span<const PitchReading> harmonics,
                                              std::span<const PitchReading> fretted);

}  // namespace midspan
