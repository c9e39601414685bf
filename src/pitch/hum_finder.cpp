// hum_finder.cpp: whether the mains hum along with a note, and at which frequency.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/hum_finder.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>

#include "pitch/blackman_harris.hpp"

namespace midspan {
namespace {

constexpr int most_multiples = 24;
constexpr std::size_t fewest_lines = 3;
constexpr double steady = 0.002;     // grids keep their frequency better than that
constexpr double stands_out = 40.0;  // in power: noise alone does not

// How far the top of a line may be off, in bins, and how far on either side it reaches. Of much shorter notes
// lines are too broad to stand out.
constexpr double top_within = 0.3;
constexpr std::size_t line_ends = 5;
constexpr std::size_t looked_at_beside = 6;

// Whether a partial is near, or a place half way between two, where a touched harmonic leaves odd ones.
bool near_partial(double frequency, const StringLaw& law, double distance) {
    const double lowest = std::exp(law.log_lowest);
    const double inharmonicity = std::max(0.0, law.inharmonicity);  // noise may make it less than nothing
    for (double place = 0.5;; place += 0.5) {
        const double k2 = place * place;
        const double there = lowest * place * std::sqrt((1.0 + inharmonicity * k2) / (1.0 + inharmonicity));
        if (std::abs(there - frequency) < distance) return true;
        if (there > frequency) return false;
    }
}

}  // namespace

HumFinder::HumFinder() : transform_{size}, window_(size), samples_(size), bins_(transform_.bins()) {
    lines_.reserve(most_multiples);
    for (std::size_t i = 0; i < size; ++i)
        window_[i] =
            static_cast<float>(blackman_harris((static_cast<double>(i) + 0.5) / static_cast<double>(size)));
}

std::optional<Hertz> HumFinder::find(std::span<const float> samples, Hertz sample_rate,
                                     const StringLaw& law) {
    const std::size_t n = std::min(samples.size(), size);
    const auto last = samples.last(n);
    std::fill(samples_.begin(), samples_.end(), 0.0F);
    // Of a shorter note every n-th weight, so that the window still fades at both ends.
    for (std::size_t i = 0; i < n; ++i)
        samples_[i] = last[i] * window_[i * size / n];
    transform_.transform(samples_, bins_);

    const double bin_width = sample_rate.value() / static_cast<double>(size);
    const double resolved = 4.0 * sample_rate.value() / static_cast<double>(n);
    std::optional<Hertz> found;
    double most = 0.0;
    for (const double nominal : {50.0, 60.0}) {
        find_lines(nominal, law, bin_width, resolved);
        // The mains that most of them agree about: its lines, weighted by how exactly each tells it.
        for (const Line& line : lines_) {
            double weights = 0.0, sum = 0.0, evidence = 0.0;
            std::size_t count = 0;
            for (const Line& other : lines_) {
                if (std::abs(other.mains - line.mains) > other.deviation + line.deviation) continue;
                const double weight = other.above / (other.deviation * other.deviation);
                weights += weight;
                sum += weight * other.mains;
                evidence += std::log(other.above);
                ++count;
            }
            if (count < fewest_lines || evidence <= most) continue;
            most = evidence;
            found = Hertz{sum / weights};
        }
    }
    return found;
}

// Fills lines_ with the multiples that stand out beside the partials.
void HumFinder::find_lines(double mains, const StringLaw& law, double bin_width, double resolved) {
    lines_.clear();
    for (int number = 1; number <= most_multiples; ++number) {
        const double frequency = number * mains;
        if (near_partial(frequency, law, resolved + steady * frequency)) continue;
        const auto line = line_near(mains, number, bin_width);
        if (line && line->above > stands_out) lines_.push_back(*line);
    }
}

// The highest top within the steadiness of the mains.
std::optional<HumFinder::Line> HumFinder::line_near(double mains, int number, double bin_width) const {
    const auto power = [&](std::size_t bin) { return static_cast<double>(std::norm(bins_[bin])); };
    const double place = number * mains / bin_width;
    const double reach = std::max(1.0, steady * place);
    const auto from = static_cast<std::size_t>(std::ceil(place - reach));
    const auto to = static_cast<std::size_t>(place + reach);
    constexpr std::size_t margin = line_ends + looked_at_beside;
    if (from < margin || to + margin >= bins_.size()) return std::nullopt;
    std::size_t top = from;
    for (std::size_t bin = from; bin <= to; ++bin)
        if (power(bin) > power(top)) top = bin;
    if (!(power(top) > power(top - 1)) || !(power(top) > power(top + 1))) return std::nullopt;

    // Two thirds of what lies beside is below this: another string's line there does not count.
    std::array<double, 2 * looked_at_beside> beside{};
    for (std::size_t i = 0; i < looked_at_beside; ++i) {
        beside[2 * i] = power(top - line_ends - i);
        beside[2 * i + 1] = power(top + line_ends + i);
    }
    const auto third = beside.begin() + 2 * beside.size() / 3;
    std::nth_element(beside.begin(), third, beside.end());

    // A parabola through the logarithms.
    const double before = std::log(power(top - 1));
    const double here = std::log(power(top));
    const double after = std::log(power(top + 1));
    const double shift = 0.5 * (before - after) / (before - 2.0 * here + after);
    return Line{(static_cast<double>(top) + shift) * bin_width / number, top_within * bin_width / number,
                power(top) / std::max(*third, 1e-30)};
}

}  // namespace midspan
