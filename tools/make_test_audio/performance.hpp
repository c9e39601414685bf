// performance.hpp: a scene played: samples, and the truth about them.
//
// Room: tools/make_test_audio. May include: tests/support.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "midspan/units.hpp"
#include "scene.hpp"

namespace midspan::test {

struct PlayedNote {
    int string;
    TakenPluck pluck;
    Cents glide;    ///< at the attack
    bool choked;    ///< no string rang: it takes no part
    bool overload;  ///< louder than full scale
};

struct HeardDisturbance {
    std::string what;
    Seconds start;
};

struct Performance {
    std::vector<std::int16_t> samples;  ///< channels interleaved
    std::vector<PlayedNote> notes;
    std::vector<HeardDisturbance> disturbances;
    Seconds duration;
};

/// The same scene gives the same samples, but for the last bit where a platform's sine differs.
[[nodiscard]] Performance play(const Scene& scene);

/// The truth about it, as text: one JSON object, numbers rounded to what is meaningful so that the text is
/// the same everywhere.
[[nodiscard]] std::string truth_json(const Scene& scene, const Performance& performance);

}  // namespace midspan::test
