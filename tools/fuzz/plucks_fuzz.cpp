// plucks_fuzz.cpp: any succession of tones, thumps, noise, silence and nonsense, searched for plucks.
#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <random>
#include <span>
#include <vector>

#include "fuzz/must.hpp"
#include "midspan/notes/pluck_finder.hpp"

using namespace midspan;
using midspan::fuzz::must;

namespace {

constexpr double rate = 8'000.0;
constexpr std::size_t longest_scene = 60;  // events; a minute of sound at most

/// Adds what one event sounds like: what it is, how long it lasts and how loud it is.
void add_event(std::vector<float>& sound, std::uint8_t kind, std::uint8_t duration, std::uint8_t level) {
    const int samples = 32 * (1 + duration);
    const auto loud = static_cast<float>(std::exp2(-level / 16.0));
    std::minstd_rand random{1U + duration};
    std::uniform_real_distribution<float> noise{-loud, loud};
    const double step = 2.0 * 3.141592653589793 * 82.4 * std::exp2(kind / 8 / 12.0) / rate;
    for (int i = 0; i < samples; ++i) {
        const auto tone = static_cast<float>(std::sin(step * i) + 0.5 * std::sin(2.0 * step * i));
        switch (kind % 8) {
            case 0:  // a plucked string
            case 1:
            case 2:
                sound.push_back(loud * tone * std::exp2(-4.0F * static_cast<float>(i) / 8'000.0F));
                break;
            case 3:  // an organ
                sound.push_back(loud * tone);
                break;
            case 4:
                sound.push_back(noise(random));
                break;
            case 5:  // a click, and silence
                sound.push_back(i == 0 ? 2.0F * loud : 0.0F);
                break;
            case 6:  // a level that is not zero, beyond full scale when loud
                sound.push_back(2.0F * loud);
                break;
            default:
                sound.push_back(i % 2 == 0 ? std::numeric_limits<float>::quiet_NaN()
                                           : std::numeric_limits<float>::infinity());
        }
    }
}

void must_make_sense(const Pluck& pluck) {
    must(pluck.attack <= pluck.usable_begin && pluck.usable_begin <= pluck.usable_end &&
             pluck.usable_end <= pluck.samples.size(),
         "a pluck's places are in order");
    must(std::ranges::all_of(pluck.samples, [](float sample) { return std::isfinite(sample); }),
         "a pluck's samples are numbers");
    must(std::isfinite(pluck.level.value()) && std::isfinite(pluck.noise_level.value()),
         "levels are numbers");
    must(pluck.start.value() >= 0.0, "a pluck lies in the recording");
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* bytes, std::size_t size) {
    std::vector<float> sound;
    for (std::size_t i = 0; i + 2 < size && i < 3 * longest_scene; i += 3) {
        add_event(sound, bytes[i], bytes[i + 1], bytes[i + 2]);
    }
    PluckFinder finder{Hertz{rate}, Hertz{60.0}};
    double last_start = 0.0;
    const auto found = [&](const Pluck& pluck) {
        must_make_sense(pluck);
        must(pluck.start.value() >= last_start, "plucks come in their order");
        last_start = pluck.start.value();
    };
    std::span<const float> rest{sound};
    const std::size_t block = size > 0 ? 64U * (1U + bytes[size - 1]) : 64U;
    while (!rest.empty()) {
        const std::size_t now = std::min(block, rest.size());
        finder.feed(rest.first(now), found);
        if (const auto ringing = finder.ringing()) must_make_sense(*ringing);
        rest = rest.subspan(now);
    }
    finder.finish(found);
    return 0;
}
