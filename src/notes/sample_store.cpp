// sample_store.cpp: a buffer twice as long as needed, so that moving its end to its start is rare.
//
// Room: notes. Pure. May include: nothing.
#include "notes/sample_store.hpp"

#include <algorithm>
#include <cassert>

namespace midspan {

void SampleStore::append(std::span<const float> samples) {
    assert(samples.size() <= kept_);
    if (held_ + samples.size() > samples_.size()) {
        const std::size_t dropped = held_ - kept_;
        std::copy_n(samples_.begin() + static_cast<std::ptrdiff_t>(dropped), kept_, samples_.begin());
        first_ += static_cast<SampleNumber>(dropped);
        held_ = kept_;
    }
    std::copy(samples.begin(), samples.end(), samples_.begin() + static_cast<std::ptrdiff_t>(held_));
    held_ += samples.size();
}

std::span<const float> SampleStore::between(SampleNumber begin, SampleNumber end) const {
    begin = std::clamp(begin, first_, count());
    end = std::clamp(end, begin, count());
    return std::span{samples_}.subspan(static_cast<std::size_t>(begin - first_),
                                       static_cast<std::size_t>(end - begin));
}

}  // namespace midspan
