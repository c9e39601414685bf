// block_ring.cpp: a slot belongs to the writer until `written_` has passed it, and to the reader until
// `dropped_` has.
//
// Room: sound. Pure. May include: nothing.
#include "sound/block_ring.hpp"

#include <algorithm>
#include <cassert>

namespace midspan {

BlockRing::BlockRing(std::size_t blocks, std::size_t frames_per_block, int channels)
    : channels_{static_cast<std::size_t>(channels)},
      block_samples_{frames_per_block * channels_},
      slots_(blocks),
      samples_(blocks * block_samples_) {
    assert(blocks > 0 && frames_per_block > 0 && channels > 0);
}

void BlockRing::write(std::span<const float> samples, bool gap_before) noexcept {
    gap_ = gap_ || gap_before;
    while (!samples.empty()) {
        const auto part = samples.first(std::min(samples.size(), block_samples_));
        samples = samples.subspan(part.size());
        const std::uint64_t number = written_.load(std::memory_order_relaxed);
        if (number - dropped_.load(std::memory_order_acquire) == slots_.size()) {
            gap_ = true;
            not_fitted_ += part.size() / channels_;
            continue;
        }
        const auto slot = static_cast<std::size_t>(number % slots_.size());
        std::copy(part.begin(), part.end(),
                  samples_.begin() + static_cast<std::ptrdiff_t>(slot * block_samples_));
        slots_[slot] = {part.size(), gap_, not_fitted_};
        gap_ = false;
        not_fitted_ = 0;
        written_.store(number + 1, std::memory_order_release);
    }
}

std::optional<BlockRing::Block> BlockRing::front() const noexcept {
    const std::uint64_t number = dropped_.load(std::memory_order_relaxed);
    if (number == written_.load(std::memory_order_acquire)) return std::nullopt;
    const auto slot = static_cast<std::size_t>(number % slots_.size());
    return Block{std::span{samples_}.subspan(slot * block_samples_, slots_[slot].samples),
                 slots_[slot].gap_before, slots_[slot].not_fitted};
}

void BlockRing::drop_front() noexcept {
    dropped_.store(dropped_.load(std::memory_order_relaxed) + 1, std::memory_order_release);
}

}  // namespace midspan
