// scene.hpp: what is played in an invented take, and the room it is played in.
//
// Room: tools/make_test_audio. May include: tests/support.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "midspan/comparison/pairing.hpp"
#include "midspan/units.hpp"
#include "midspan/warning.hpp"
#include "support/neck_string.hpp"

namespace midspan::test {

/// One string of the take, with what goes wrong on it and what a right answer says about it.
struct SceneString {
    int number;             ///< 1 is the highest-pitched
    std::string open_note;  ///< as the tuning names it
    Cents off_pitch;        ///< of the open string from that note
    double inharmonicity;   ///< B of the open string
    Cents error;            ///< fretted minus 12th-fret harmonic
    Seconds decay;          ///< time constant of the open string's partial 1

    std::optional<int> choked_fretted{};    ///< this fretted note (0 is the first) dies, and is plucked again
    std::optional<int> clipped_harmonic{};  ///< this harmonic overloads the input
    bool fretted_first = false;             ///< the player got the order wrong

    std::vector<std::string_view> acceptable_verdicts{};  ///< as --json spells them, tolerance 1.5 cents
    std::vector<WarningCode> expected_warnings{};         ///< on this string
};

/// What else is heard. Amplitudes are fractions of full scale.
struct SceneRoom {
    double white_noise = 0.0;     ///< RMS
    double coloured_noise = 0.0;  ///< RMS
    Hertz mains{50.0};
    double hum = 0.0;  ///< amplitude of the mains frequency; its harmonics fall as 1/k
    int hum_harmonics = 6;
    double dc_offset = 0.0;
    Seconds talk{0.0};                       ///< at the start
    double thumps = 0.0;                     ///< one before every second string
    std::optional<int> squeak_before{};      ///< a finger slides along before this string is played
    Decibels sympathetic{-300.0};            ///< the other strings against the plucked one
    std::optional<Decibels> odd_partials{};  ///< that the touching finger leaves; -45 dB else
};

struct Scene {
    std::string file;  ///< its ending says WAV or FLAC; always 16 bit
    std::string story;
    Hertz sample_rate;
    int channels = 1;  ///< all but the first are dead
    std::uint64_t seed;

    std::string tuning;  ///< low to high
    Millimetres scale_length;
    PluckOrder order = PluckOrder::alternate;
    bool open_first = true;
    int pairs = 3;
    Seconds open_ring{1.0};
    Seconds ring{2.0};
    Cents scatter{0.15};  ///< standard deviation between fretted notes
    double loudness = 0.6;

    std::vector<SceneString> strings{};  ///< as they are played
    SceneRoom room{};
    std::vector<WarningCode> expected_warnings{};  ///< of the whole take
};

/// Every take in test_audio/.
[[nodiscard]] std::vector<Scene> all_scenes();

}  // namespace midspan::test
