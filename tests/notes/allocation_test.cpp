// allocation_test.cpp: the finder allocates when it is made and never afterwards.
//
// The operators below replace those of the whole test program, which the standard allows; they do the same
// and count. Under a sanitizer malloc and free are still the sanitizer's own.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstddef>
#include <cstdlib>
#include <new>
#include <vector>

#include "midspan/notes/pluck_finder.hpp"
#include "support/disturbances.hpp"
#include "support/plucked_string.hpp"

namespace {

thread_local std::size_t allocations = 0;

void* counted_or_nothing(std::size_t size) noexcept {
    ++allocations;
    return std::malloc(size == 0 ? 1 : size);
}

void* counted(std::size_t size) {
    if (void* memory = counted_or_nothing(size)) return memory;
    throw std::bad_alloc{};
}

}  // namespace

void* operator new(std::size_t size) { return counted(size); }
void* operator new[](std::size_t size) { return counted(size); }
// What std::stable_sort takes its buffer with.
void* operator new(std::size_t size, const std::nothrow_t&) noexcept { return counted_or_nothing(size); }
void* operator new[](std::size_t size, const std::nothrow_t&) noexcept { return counted_or_nothing(size); }
void operator delete(void* memory) noexcept { std::free(memory); }
void operator delete[](void* memory) noexcept { std::free(memory); }
void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }
void operator delete[](void* memory, std::size_t) noexcept { std::free(memory); }

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
        const std::size_t before_construction = allocations;
        PluckFinder finder{rate, 69.0_hz};
        const std::size_t before_feeding = allocations;
        CHECK(before_feeding > before_construction);  // so the counter counts
        for (std::size_t n = 0; n < samples.size(); n += 1000) {
            finder.feed(std::span{samples}.subspan(n, std::min<std::size_t>(1000, samples.size() - n)),
                        count);
            if (finder.ringing()) ++seen_ringing;
        }
        finder.finish(count);
        const std::size_t afterwards = allocations;
        CHECK(afterwards == before_feeding);
        CHECK(plucks >= 6);
        CHECK(seen_ringing > 100);
    }
}

}  // namespace midspan::test
