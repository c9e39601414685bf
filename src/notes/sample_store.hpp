// sample_store.hpp: the samples a pluck may be cut from, in one piece.
//
// Room: notes. Pure. May include: nothing.
#pragma once

#include <cstddef>
#include <cstdint>
#include <span>
#include <vector>

namespace midspan {

/// Counts samples, at the decimated rate, since the start of the recording.
using SampleNumber = std::int64_t;

/// Keeps at least the last `kept` samples. Allocates when it is made, never afterwards; what it returns
/// is valid until the next append.
class SampleStore {
public:
    explicit SampleStore(std::size_t kept) : kept_{kept}, samples_(2 * kept) {}

    void append(std::span<const float> samples);

    [[nodiscard]] SampleNumber count() const { return first_ + static_cast<SampleNumber>(held_); }

    /// The samples from `begin` to before `end`; what is not kept or has not come yet is left out.
    [[nodiscard]] std::span<const float> between(SampleNumber begin, SampleNumber end) const;

private:
    std::size_t kept_;
    std::vector<float> samples_;
    std::size_t held_ = 0;
    SampleNumber first_ = 0;  // the number of samples_[0]
};

}  // namespace midspan
