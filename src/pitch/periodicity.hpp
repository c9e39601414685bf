// periodicity.hpp: the coarse period of a tone, by autocorrelation.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <complex>
#include <span>
#include <vector>

#include "ground/real_transform.hpp"
#include "midspan/units.hpp"

namespace midspan {

struct Periodicity {
    Hertz frequency;  ///< within about 1 %, above the lowest partial on a stiff string
    double clarity;   ///< autocorrelation at that period against lag 0: 1 periodic, 0 noise
};

/// Holds its workspace; allocates when it is made, never afterwards.
class PeriodFinder {
public:
    /// The longest piece of sound that is looked at, in samples; a longer one is cut.
    static constexpr std::size_t longest = 4096;

    PeriodFinder();

    /// samples            one channel, at least two periods of `lowest`
    /// sample_rate        8 to 22 kHz
    /// lowest, highest    range of frequencies looked for
    ///
    /// The shortest period that explains the sound about as well as the best one does is taken, so that a
    /// touched harmonic with weak odd partials of the open string is read at its own pitch. Partials high
    /// above the range are faded out beforehand: on a stiff string they pull the period short. Where much
    /// sounds on, what is as loud at the end of the samples is left out if the rest is clearer without: hum.
    [[nodiscard]] Periodicity find(std::span<const float> samples, Hertz sample_rate, Hertz lowest,
                                   Hertz highest);

private:
    [[nodiscard]] Periodicity find_dying(std::span<const float> samples, Hertz sample_rate, Hertz lowest,
                                         Hertz highest);
    void take_power(std::span<const float> samples, Hertz sample_rate, Hertz lowest, Hertz highest,
                    std::span<double> power);
    [[nodiscard]] Periodicity shortest_of_power(std::size_t n, Hertz sample_rate, Hertz lowest,
                                                Hertz highest);

    RealTransform transform_;
    std::vector<float> samples_;
    std::vector<std::complex<float>> bins_;
    std::vector<double> autocorrelation_;
    std::vector<double> power_;
    std::vector<double> power_at_end_;
};

}  // namespace midspan
