// found_plucks.hpp: what a finder makes of a whole recording, kept beyond its calls.
//
// Room: tests/notes. May include: ground, notes, support.
#pragma once

#include <algorithm>
#include <cstddef>
#include <span>
#include <vector>

#include "midspan/notes/pluck_finder.hpp"
#include "support/plucked_string.hpp"

namespace midspan::test {

/// A pluck whose samples are our own.
struct FoundPluck {
    explicit FoundPluck(const Pluck& found)
        : pluck{found}, samples(found.samples.begin(), found.samples.end()) {
        pluck.samples = samples;
    }
    FoundPluck(const FoundPluck& other) : FoundPluck{other.pluck} {}
    FoundPluck& operator=(const FoundPluck&) = delete;

    [[nodiscard]] Seconds start() const { return pluck.start; }
    [[nodiscard]] Seconds usable_from() const { return pluck.start + pluck.settling(); }
    [[nodiscard]] Seconds usable_until() const { return usable_from() + pluck.usable_duration(); }

    Pluck pluck;
    std::vector<float> samples;
};

inline constexpr Hertz guitar_lowest{69.0};  // three semitones below E2

[[nodiscard]] inline std::vector<FoundPluck> found_plucks(std::span<const float> samples, Hertz sample_rate,
                                                          Hertz lowest = guitar_lowest,
                                                          std::size_t block = 1024) {
    std::vector<FoundPluck> result;
    const auto keep = [&](const Pluck& pluck) { result.emplace_back(pluck); };
    PluckFinder finder{sample_rate, lowest};
    for (std::size_t n = 0; n < samples.size(); n += block)
        finder.feed(samples.subspan(n, std::min(block, samples.size() - n)), keep);
    finder.finish(keep);
    return result;
}

[[nodiscard]] inline std::vector<FoundPluck> found_plucks(std::span<const double> sound, Hertz sample_rate,
                                                          Hertz lowest = guitar_lowest) {
    return found_plucks(floats(sound), sample_rate, lowest);
}

}  // namespace midspan::test
