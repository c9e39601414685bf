// block_ring_test.cpp: nothing gets lost in silence between two threads.
#include "sound/block_ring.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <numeric>
#include <thread>
#include <vector>

#include "support/trials.hpp"

namespace midspan::test {
namespace {

/// Samples that count up from `first`.
std::vector<float> counting(int first, std::size_t count) {
    std::vector<float> samples(count);
    std::iota(samples.begin(), samples.end(), static_cast<float>(first));
    return samples;
}

std::vector<float> taken(BlockRing& ring) {
    const auto block = ring.front();
    REQUIRE(block);
    std::vector<float> samples{block->samples.begin(), block->samples.end()};
    ring.drop_front();
    return samples;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("blocks come out as they went in, oldest first, and long ones divided") {
        BlockRing ring{4, 3, 2};
        CHECK(!ring.front());
        ring.write(counting(0, 4), false);
        ring.write(counting(4, 14), false);
        CHECK(taken(ring) == counting(0, 4));
        CHECK(taken(ring) == counting(4, 6));
        CHECK(taken(ring) == counting(10, 6));
        CHECK(taken(ring) == counting(16, 2));
        CHECK(!ring.front());
    }

    TEST_CASE("what does not fit is counted, and the block behind the gap says so") {
        BlockRing ring{2, 4, 1};
        ring.write(counting(0, 4), false);
        ring.write(counting(4, 4), false);
        ring.write(counting(8, 4), false);
        ring.write(counting(12, 3), false);
        CHECK(!ring.front()->gap_before);
        CHECK(taken(ring) == counting(0, 4));
        ring.write(counting(15, 4), false);
        CHECK(!ring.front()->gap_before);
        CHECK(taken(ring) == counting(4, 4));
        CHECK(ring.front()->gap_before);
        CHECK(ring.front()->not_fitted == 7);
        CHECK(taken(ring) == counting(15, 4));
        ring.write(counting(19, 4), false);
        CHECK(!ring.front()->gap_before);
    }

    TEST_CASE("a gap the device knows of stands before the samples that came with it") {
        BlockRing ring{4, 2, 1};
        ring.write(counting(0, 2), false);
        ring.write(counting(2, 4), true);
        CHECK(taken(ring) == counting(0, 2));
        CHECK(ring.front()->gap_before);
        CHECK(ring.front()->not_fitted == 0);
        CHECK(taken(ring) == counting(2, 2));
        CHECK(!ring.front()->gap_before);
    }

    TEST_CASE("with a writer and a reader at once every sample arrives in order or is counted as lost") {
        constexpr int writes = trials(200'000);
        constexpr std::size_t frames = 5;
        BlockRing ring{8, frames, 1};
        std::atomic<bool> over{false};
        std::thread writer{[&] {
            std::vector<float> samples(frames);
            for (int i = 0; i < writes; ++i) {
                std::fill(samples.begin(), samples.end(), static_cast<float>(i));
                ring.write(samples, false);
                // Now and then the reader gets a chance to catch up, so that there are gaps and runs.
                if (i % 64 == 0) std::this_thread::yield();
            }
            over = true;
        }};
        float expected = 0.0F;
        std::uint64_t received = 0;
        bool in_order = true;
        for (;;) {
            const bool last_look = over;
            const auto block = ring.front();
            if (!block) {
                if (last_look) break;
                continue;
            }
            expected += static_cast<float>(block->not_fitted / frames);
            in_order = in_order && (block->not_fitted > 0) == block->gap_before;
            for (const float sample : block->samples)
                in_order = in_order && sample == expected;
            received += 1;
            expected += 1.0F;
            ring.drop_front();
        }
        writer.join();
        CHECK(in_order);
        CHECK(received > 8);
        CHECK(expected <= static_cast<float>(writes));
    }
}

}  // namespace midspan::test
