// tone_listener.hpp: tells whether a tone rings after an event that did not ring before it.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <cstddef>
#include <span>
#include <vector>

#include "midspan/units.hpp"
#include "notes/power_spectrum.hpp"

namespace midspan {

/// What rings after an event and did not before. Powers are those of spectral bins, a^2 / 4 for a sine of
/// amplitude a.
struct NewTone {
    float power = 0.0F;     ///< of the peaks that are new and last
    float share = 0.0F;     ///< of these peaks, in all that has risen by 3 dB; about 1 if it is all tone
    float clearest = 0.0F;  ///< the most that a lasting peak has risen, a ratio of powers
    float lasting = 0.0F;   ///< power in the second half of the stretch against the first
};

/// Compares short spectra up to 2.6 kHz, peak by peak. A string leaves narrow peaks that last; a thump
/// leaves low ones that die within the stretch; squeaks and clicks leave no narrow ones.
class ToneListener {
public:
    ToneListener(Hertz sample_rate, Hertz lowest);

    /// How much sound it wants to hear, in samples: three periods of the lowest note, 80 to 95 ms.
    [[nodiscard]] std::size_t stretch() const { return stretch_; }

    /// after   32 to stretch() samples
    /// before  stretches of sound before the event, at most stretch() each; what rang in any of them is old
    [[nodiscard]] NewTone compare(std::span<const float> after,
                                  std::span<const std::span<const float>> before);

private:
    [[nodiscard]] bool is_peak(std::size_t bin);

    std::size_t stretch_;
    PowerSpectrum spectrum_;
    float bins_a_peak_;  // the power of a whole peak against its highest bin
    std::size_t first_bin_;
    std::size_t neighbours_;  // on either side, that a peak must stand out of
    std::vector<float> after_, early_, late_, old_, one_old_, sorted_;
};

}  // namespace midspan
