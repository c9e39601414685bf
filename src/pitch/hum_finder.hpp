// hum_finder.hpp: whether the mains hum along with a note, and at which frequency.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <complex>
#include <optional>
#include <span>
#include <vector>

#include "ground/real_transform.hpp"
#include "midspan/units.hpp"
#include "pitch/string_law.hpp"

namespace midspan {

/// Looks between the partials of a note, where no string sounds. Holds its workspace; allocates when it is
/// made, never afterwards.
class HumFinder {
public:
    HumFinder();

    /// The frequency of the mains, within 0.2 % of 50 or 60 Hz, if three of its multiples at least stand out
    /// beside the partials of a note and agree about it.
    ///
    /// samples  one channel, attack over; the last second is looked at, where the string has died down. Of
    ///          much less than that nothing is said
    /// law      of the note
    [[nodiscard]] std::optional<Hertz> find(std::span<const float> samples, Hertz sample_rate,
                                            const StringLaw& law);

private:
    static constexpr std::size_t size = 16384;
    /// One multiple, as if it were the mains.
    struct Line {
        double mains = 0.0;      ///< Hz
        double deviation = 0.0;  ///< at most, Hz
        double above = 0.0;      ///< what lies beside it, as a ratio of powers
    };

    [[nodiscard]] std::optional<Line> line_near(double mains, int number, double bin_width) const;
    void find_lines(double mains, const StringLaw& law, double bin_width, double resolved);

    RealTransform transform_;
    std::vector<float> window_;
    std::vector<float> samples_;
    std::vector<std::complex<float>> bins_;
    std::vector<Line> lines_;
};

}  // namespace midspan
