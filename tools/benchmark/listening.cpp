// listening.cpp: the pluck finder and the estimator, one after the other.
//
// Room: tools/benchmark. Pure. May include: ground, notes, pitch.
#include "benchmark/listening.hpp"

#include "midspan/notes/pluck_finder.hpp"

namespace midspan::benchmark {

std::optional<Heard> heard(std::span<const float> samples, Hertz sample_rate, Seconds start,
                           PitchEstimator& estimator, Hertz lowest) {
    PluckFinder finder{sample_rate, lowest};
    std::optional<Heard> result;
    const auto found = [&](const Pluck& pluck) {
        if (magnitude(pluck.start - start) > Seconds{0.1}) return;
        if (const auto reading = estimator.estimate(pluck)) result = Heard{*reading, pluck.settling()};
    };
    finder.feed(samples, found);
    finder.finish(found);
    return result;
}

}  // namespace midspan::benchmark
