// block_ring.hpp: sound on its way out of an audio callback.
//
// Room: sound. Pure. May include: nothing.
#pragma once

#include <atomic>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <vector>

namespace midspan {

/// Blocks of interleaved samples from one thread that writes to one thread that reads, oldest first.
///
/// All memory is allocated by the constructor. write() neither allocates nor locks nor waits: what does not
/// fit is counted and lost, and the block behind the gap says so.
class BlockRing {
public:
    /// blocks            how many fit, > 0
    /// frames_per_block  > 0; channels > 0
    BlockRing(std::size_t blocks, std::size_t frames_per_block, int channels);

    struct Block {
        std::span<const float> samples;  ///< valid until drop_front()
        bool gap_before;                 ///< samples between the block before and this one were lost
        std::uint64_t not_fitted;  ///< frames of that gap the ring had no room for; the device may add more
    };

    // --- for the writing thread alone

    /// samples     interleaved; longer ones than a block are divided
    /// gap_before  the device itself lost samples before these
    void write(std::span<const float> samples, bool gap_before) noexcept;

    // --- for the reading thread alone

    /// The oldest block that was not dropped yet; nothing when all have been.
    [[nodiscard]] std::optional<Block> front() const noexcept;

    /// Makes room of the block front() gave.
    void drop_front() noexcept;

private:
    struct Slot {
        std::size_t samples = 0;
        bool gap_before = false;
        std::uint64_t not_fitted = 0;
    };

    std::size_t channels_;
    std::size_t block_samples_;
    std::vector<Slot> slots_;
    std::vector<float> samples_;  // of all slots, one after the other

    // Counted from the start and never wound back; a slot is its number modulo how many there are.
    alignas(64) std::atomic<std::uint64_t> written_{0};
    alignas(64) std::atomic<std::uint64_t> dropped_{0};

    // Of the writing thread: the gap that the next block which fits will tell of.
    alignas(64) bool gap_ = false;
    std::uint64_t not_fitted_ = 0;
};

}  // namespace midspan
