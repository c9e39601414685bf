// tone_listener.cpp: peak by peak, after against before.
//
// Room: notes. Pure. May include: ground.
#include "notes/tone_listener.hpp"

#include <algorithm>
#include <bit>
#include <cassert>

namespace midspan {
namespace {

constexpr double highest_hz = 2600.0;
constexpr double neighbourhood_hz = 120.0;
constexpr std::size_t shortest = 32;
constexpr float stands_out = 16.0F;  // 12 dB above the lower quartile around it
constexpr float risen = 2.0F;        // 3 dB
constexpr float lasts = 0.3F;        // loses at most 5 dB between the halves of the stretch

std::size_t stretch_length(Hertz sample_rate, Hertz lowest) {
    const double seconds = std::clamp(3.0 / lowest.value(), 0.080, 0.120);
    return static_cast<std::size_t>(seconds * sample_rate.value());
}

}  // namespace

ToneListener::ToneListener(Hertz sample_rate, Hertz lowest)
    : stretch_{stretch_length(sample_rate, lowest)}, spectrum_{std::bit_ceil(stretch_)} {
    const double bin_width = sample_rate.value() / static_cast<double>(spectrum_.size());
    const auto bins_in = [&](double hz) { return static_cast<std::size_t>(hz / bin_width); };
    // The sum of a Hann window's squares is 1.5 times the square of its sum, over the length.
    bins_a_peak_ = 1.5F * static_cast<float>(spectrum_.size()) / static_cast<float>(stretch_);
    neighbours_ = bins_in(neighbourhood_hz);
    first_bin_ = std::max<std::size_t>(2, bins_in(0.8 * lowest.value()));
    const std::size_t bins = std::min(bins_in(highest_hz), spectrum_.size() / 2 - 1);
    for (std::vector<float>* spectrum : {&after_, &early_, &late_, &old_, &one_old_})
        spectrum->resize(bins);
    sorted_.resize(2 * neighbours_ + 1);
}

NewTone ToneListener::compare(std::span<const float> after, std::span<const std::span<const float>> before) {
    assert(after.size() >= shortest && after.size() <= stretch_);
    spectrum_.of(after, after_);
    spectrum_.of(after.first(after.size() / 2), early_);
    spectrum_.of(after.subspan(after.size() / 2), late_);
    std::fill(old_.begin(), old_.end(), 0.0F);
    for (const std::span<const float> stretch : before) {
        if (stretch.size() < shortest) continue;
        spectrum_.of(stretch, one_old_);
        for (std::size_t k = 0; k < old_.size(); ++k)
            old_[k] = std::max(old_[k], one_old_[k]);
    }
    // A peak beyond the end must not leave its slope here.
    std::size_t end = after_.size() - 1;
    while (end > first_bin_ && after_[end] > after_[end - 1])
        --end;
    NewTone tone;
    float all_new = 0.0F;
    float early = 0.0F;
    float late = 0.0F;
    for (std::size_t k = first_bin_; k < end; ++k) {
        const float old = std::max({old_[k - 1], old_[k], old_[k + 1]});
        if (after_[k] <= risen * old) continue;
        all_new += after_[k] - old;
        if (late_[k] < lasts * early_[k] || !is_peak(k)) continue;
        tone.power += after_[k] - old;
        tone.clearest = std::max(tone.clearest, after_[k] / std::max(old, 1e-20F));
        early += early_[k];
        late += late_[k];
    }
    if (early > 0.0F) tone.lasting = late / early;
    if (all_new > 0.0F) tone.share = bins_a_peak_ * tone.power / all_new;
    return tone;
}

bool ToneListener::is_peak(std::size_t bin) {
    if (!(after_[bin] > after_[bin - 1] && after_[bin] >= after_[bin + 1])) return false;
    const std::size_t begin = bin > neighbours_ ? bin - neighbours_ : 1;
    const std::size_t end = std::min(after_.size(), bin + neighbours_ + 1);
    const auto quartile = sorted_.begin() + static_cast<std::ptrdiff_t>((end - begin) / 4);
    const auto last = std::copy(after_.begin() + static_cast<std::ptrdiff_t>(begin),
                                after_.begin() + static_cast<std::ptrdiff_t>(end), sorted_.begin());
    std::nth_element(sorted_.begin(), quartile, last);
    return after_[bin] >= stands_out * *quartile;
}

}  // namespace midspan
