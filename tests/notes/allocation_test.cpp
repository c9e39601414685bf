// allocation_test.cpp: the finder allocates when it is made and never afterwards.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <vector>

#include "midspan/notes/pluck_finder.hpp"
#include "support/allocations.hpp"
#include "support/disturbances.hpp"
#include "support/plucked_string.hpp"

namespace midspan::test {

TEST_SUITE("properties") {
    TEST_CASE("feeding the finder allocates nothing, whatever it hears") {
        using namespace midspan::literals;
        constexpr Hertz rate{24000.0};
        std::vector<double> sound(static_cast<std::size_t>(30.0 * rate.value()), 0.0);
        add_white_noise(sound, 1e-4, 1);
        for (const Seconds start : {0.5_s, 2.0_s, 2.4_s, 5.0_s, 18.0_s})
            add_pluck(sound, rate, start, PluckedString{});
        add_pluck(sound, rate, 20.0_s, choked(PluckedString{}));
        add_thump(sound, rate, 3.0_s, 0.5, 2);
        add_talk(sound, rate, 22.0_s, 5.0_s, 0.2, 3);
        clip(sound, 0.4);
        const std::vector<float> samples = floats(sound);

        std::size_t plucks = 0;
        std::size_t seen_ringing = 0;
        const PluckFinder::Found count = [&](const Pluck&) { ++plucks; };
        const std::size_t before_construction = allocations_so_far();
        PluckFinder finder{rate, 69.0_hz};
        const std::size_t before_feeding = allocations_so_far();
        CHECK(before_feeding > before_construction);  // so the counter counts
        for (std::size_t n = 0; n < samples.size(); n += 1000) {
            finder.feed(std::span{samples}.subspan(n, std::min<std::size_t>(1000, samples.size() - n)),
                        count);
            if (finder.ringing()) ++seen_ringing;
        }
        finder.finish(count);
        const std::size_t afterwards = allocations_so_far();
        CHECK(afterwards == before_feeding);
        CHECK(plucks >= 6);
        CHECK(seen_ringing > 100);
    }
}

}  // namespace midspan::test
