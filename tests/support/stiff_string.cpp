// stiff_string.cpp: a second string, from the equation of motion instead of from modes.
//
// Room: tests/support.
#include "support/stiff_string.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <cstddef>
#include <numbers>
#include <span>

namespace midspan::test {
namespace {

constexpr double pi = std::numbers::pi;

// The string in metres and seconds, cut to a grid.
struct Scheme {
    std::size_t pieces;
    double h;        // length of a piece
    double k;        // time step
    double tension;  // c^2
    double bending;  // kappa^2 and the correction of the grid
    double s_0;
    double eta;
    StringEnds ends;
};

Scheme scheme_of(const StiffString& s, const Grid& grid, double detune_cents, Seconds decay) {
    const double L = s.length.value() / 1000.0;
    const double c = 2.0 * L * s.ideal_fundamental.value() * std::exp2(detune_cents / 1200.0);
    const double h = L / grid.pieces;
    const double k = 1.0 / grid.steps.value();
    const double kappa_squared = s.inharmonicity * c * c * L * L / (pi * pi);

    // alpha = s_0 + eta w^2 / 2 at mode 1 and at 3 kHz.
    const double w_1 = 2.0 * pi * s.ideal_fundamental.value();
    const double w_3 = 2.0 * pi * 3000.0;
    const double eta =
        2.0 * (1.0 / s.decay_at_3_khz.value() - 1.0 / s.decay.value()) / (w_3 * w_3 - w_1 * w_1);
    const double s_0 = 1.0 / decay.value() - 0.5 * eta * w_1 * w_1;
    return {static_cast<std::size_t>(grid.pieces),
            h,
            k,
            c * c,
            kappa_squared + c * c * (h * h - c * c * k * k) / 12.0,
            s_0,
            eta,
            s.ends};
}

// How many eigenvalues of D lie below x: the negative pivots of D - x = L d L^T (Sylvester's law of inertia).
// D acts on the points between the ends; it has five diagonals, of which the first and last entry know
// how the end is held: u_(-1) = -u_1 pinned, +u_1 clamped.
std::size_t eigenvalues_below(const Scheme& s, double x) {
    const double wave = s.tension / (s.h * s.h);
    const double bend = s.bending / (s.h * s.h * s.h * s.h);
    const double end = s.ends == StringEnds::pinned ? -bend : bend;
    const double side = -wave - 4.0 * bend;
    std::size_t count = 0;
    double d_1 = 1.0, d_2 = 1.0;  // the pivots before, and the multipliers that belong to them
    double l_1 = 0.0;
    const std::size_t size = s.pieces - 1;
    for (std::size_t i = 0; i < size; ++i) {
        const double diagonal = 2.0 * wave + 6.0 * bend + (i == 0 || i + 1 == size ? end : 0.0) - x;
        const double m_2 = i >= 2 ? bend / d_2 : 0.0;
        const double m_1 = i >= 1 ? (side - (i >= 2 ? m_2 * d_2 * l_1 : 0.0)) / d_1 : 0.0;
        const double d = diagonal - m_1 * m_1 * d_1 - m_2 * m_2 * d_2;
        if (d < 0.0) ++count;
        d_2 = d_1;
        d_1 = d;
        l_1 = m_1;
    }
    return count;
}

double eigenvalue(const Scheme& s, std::size_t index) {
    double low = 0.0;
    double high = 4.0 * s.tension / (s.h * s.h) + 16.0 * s.bending / (s.h * s.h * s.h * s.h);
    for (int i = 0; i < 100 && high - low > 1e-15 * high; ++i) {
        const double middle = 0.5 * (low + high);
        (eigenvalues_below(s, middle) > index ? high : low) = middle;
    }
    return 0.5 * (low + high);
}

// One time step of a mode is multiplication by z, where
//     (1 + s_0 k) z^2 - (2 - (k^2 + eta k) lambda) z + (1 - s_0 k - eta k lambda) = 0.
StringMode mode_of(const Scheme& s, double lambda) {
    const double a = 1.0 + s.s_0 * s.k;
    const double b = 2.0 - (s.k * s.k + s.eta * s.k) * lambda;
    const double c = 1.0 - s.s_0 * s.k - s.eta * s.k * lambda;
    const double angle = std::acos(b / (2.0 * std::sqrt(a * c)));
    return {Hertz{angle / (2.0 * pi * s.k)}, Seconds{-2.0 * s.k / std::log(c / a)}};
}

bool stable(const StiffString& string, const Grid& grid) {
    const Scheme s = scheme_of(string, grid, std::max(0.0, string.second_plane.detune.value()), string.decay);
    const double largest = 4.0 * s.tension / (s.h * s.h) + 16.0 * s.bending / (s.h * s.h * s.h * s.h);
    // No wave may travel farther than one piece in a step (Courant). Else 4 is the limit; a tenth is left
    // for the tension that grows.
    if (std::sqrt(s.tension) * s.k > s.h) return false;
    return (s.k * s.k + 2.0 * s.eta * s.k) * largest <= 3.6;
}

// One plane of vibration. Arrays hold the string from end to end and one point beyond either end.
class Plane {
public:
    Plane(const Scheme& scheme, std::span<const double> shape)
        : scheme_{scheme},
          now_(scheme.pieces + 3, 0.0),
          before_(scheme.pieces + 3, 0.0),
          mixed_(scheme.pieces + 3, 0.0),
          after_(scheme.pieces + 3, 0.0) {
        std::copy(shape.begin(), shape.end(), now_.begin() + 1);
        before_ = now_;  // let go at rest
    }

    // The mean of u_x^2.
    [[nodiscard]] double slope() const {
        double sum = 0.0;
        for (std::size_t i = 1; i <= scheme_.pieces; ++i) {
            sum += (now_[i + 1] - now_[i]) * (now_[i + 1] - now_[i]);
        }
        return sum / (static_cast<double>(scheme_.pieces) * scheme_.h * scheme_.h);
    }

    [[nodiscard]] double velocity(std::size_t point) const {
        return (now_[point + 1] - before_[point + 1]) / scheme_.k;
    }

    // `touch`: the damping rate of the finger at every point, or nothing.
    void step(double tension_factor, std::span<const double> touch) {
        const Scheme& s = scheme_;
        const double h2 = s.h * s.h;
        const double wave = tension_factor * s.tension / h2;
        const double bend = s.bending / (h2 * h2);
        const double new_part = s.k * s.k + s.eta * s.k;
        const double old_part = s.eta * s.k;
        for (std::size_t i = 1; i < s.pieces + 2; ++i)
            mixed_[i] = new_part * now_[i] - old_part * before_[i];
        const double mirrored = s.ends == StringEnds::pinned ? -1.0 : 1.0;
        mixed_.front() = mirrored * mixed_[2];
        mixed_.back() = mirrored * mixed_[s.pieces];
        const double middle = 2.0 * wave + 6.0 * bend;
        const double side = -wave - 4.0 * bend;
        const double loss = s.s_0 * s.k;
        for (std::size_t i = 2; i <= s.pieces; ++i) {
            const double force = middle * mixed_[i] + side * (mixed_[i - 1] + mixed_[i + 1]) +
                                 bend * (mixed_[i - 2] + mixed_[i + 2]);
            after_[i] = 2.0 * now_[i] - (1.0 - loss) * before_[i] - force;
        }
        const double held = 1.0 / (1.0 + loss);
        for (std::size_t i = 2; i <= s.pieces; ++i)
            after_[i] *= held;
        if (!touch.empty()) {
            // (1 + loss + f) u+ = ... - (1 - loss - f) u-, with f the finger's share: added afterwards.
            for (std::size_t i = 2; i <= s.pieces; ++i) {
                const double f = touch[i - 1] * s.k;
                after_[i] = (after_[i] * (1.0 + loss) + f * before_[i]) / (1.0 + loss + f);
            }
        }
        before_.swap(now_);
        now_.swap(after_);
    }

private:
    Scheme scheme_;
    std::vector<double> now_, before_, mixed_, after_;
};

// A triangle with its corner rounded by the finger: its mean over the finger's width.
std::vector<double> pluck_shape(const StiffString& s, std::size_t pieces) {
    const double p = s.pluck_position;
    const double half = std::min({0.5 * (s.pluck_width / s.length), 0.9 * p, 0.9 * (1.0 - p)});
    const auto triangle = [&](double x) { return x < p ? x / p : (1.0 - x) / (1.0 - p); };
    std::vector<double> shape(pieces + 1, 0.0);
    for (std::size_t i = 1; i < pieces; ++i) {
        const double x = static_cast<double>(i) / static_cast<double>(pieces);
        const double reach = std::min({half, x, 1.0 - x});
        constexpr int parts = 64;
        double sum = 0.0;
        for (int j = 0; j < parts; ++j)
            sum += triangle(x + reach * ((2.0 * j + 1.0) / parts - 1.0));
        shape[i] = s.pluck_height.value() / 1000.0 * sum / parts;
    }
    return shape;
}

// A finger 8 mm wide, soft at its edges, whose whole resistance is half that of the string's wave impedance:
// it takes f_0 nepers a second out of an odd mode. A firmer one would reflect the wave instead.
std::vector<double> finger_on_the_middle(const StiffString& s, std::size_t pieces) {
    constexpr double half_width = 4.0;                                      // mm
    const double c = 2.0 * s.length.value() * s.ideal_fundamental.value();  // mm/s
    const double peak = 0.25 * c / half_width;
    std::vector<double> rate(pieces + 1, 0.0);
    double sum = 0.0;
    for (std::size_t i = 0; i <= pieces; ++i) {
        const double off = s.length.value() * (static_cast<double>(i) / static_cast<double>(pieces) - 0.5);
        if (std::abs(off) < half_width) rate[i] = peak * (0.5 + 0.5 * std::cos(pi * off / half_width));
        sum += rate[i];
    }
    // A coarse grid sees the finger at a point or two: keep its whole resistance.
    const double whole = peak * half_width * static_cast<double>(pieces) / s.length.value();
    for (double& r : rate)
        r *= whole / sum;
    return rate;
}

}  // namespace

StiffString pressed_at_12th(StiffString open, Cents pressing) {
    const double tension = std::exp2(2.0 * pressing.value() / 1200.0);
    open.ideal_fundamental = raised(2.0 * open.ideal_fundamental, pressing);
    open.inharmonicity *= 4.0 / tension;
    open.stretch_stiffness /= tension;
    open.length = 0.5 * open.length;
    open.touched = false;
    return open;
}

StiffString touched_at_12th(StiffString open) {
    open.touched = true;
    return open;
}

Grid grid_for(const StiffString& string, Hertz sample_rate) {
    Grid best{2, sample_rate};
    for (int times = 1; times <= 8; ++times) {
        Grid grid{120, static_cast<double>(times) * sample_rate};
        while (grid.pieces > 2 && !stable(string, grid))
            grid.pieces -= 2;
        if (grid.pieces > best.pieces) best = grid;
        if (best.pieces >= 90) break;
    }
    assert(stable(string, best));
    return best;
}

std::vector<StringMode> modes_of(const StiffString& string, const Grid& grid, int count) {
    assert(stable(string, grid) && count < grid.pieces);
    const Scheme scheme = scheme_of(string, grid, 0.0, string.decay);
    std::vector<StringMode> modes;
    for (int n = 0; n < count; ++n) {
        modes.push_back(mode_of(scheme, eigenvalue(scheme, static_cast<std::size_t>(n))));
    }
    return modes;
}

StiffNote sound_of(const StiffString& string, Hertz sample_rate) {
    assert(string.decay_at_3_khz <= string.decay && string.second_plane.decay.value() > 0.0);
    const Grid grid = grid_for(string, sample_rate);
    const Scheme scheme = scheme_of(string, grid, 0.0, string.decay);
    const SecondPlane& across = string.second_plane;
    const bool two_planes = across.ratio > 0.0;

    std::vector<double> shape = pluck_shape(string, scheme.pieces);
    Plane first{scheme, shape};
    for (double& u : shape)
        u *= across.ratio;
    Plane second{scheme_of(string, grid, across.detune.value(), across.decay), shape};
    const std::vector<double> finger = finger_on_the_middle(string, scheme.pieces);
    const auto pickup = static_cast<std::size_t>(
        std::max(1.0, std::round(string.pickup_position * static_cast<double>(scheme.pieces))));

    const auto steps_a_sample = static_cast<std::size_t>(std::lround(grid.steps / sample_rate));
    const auto size = static_cast<std::size_t>(string.duration.value() * sample_rate.value());
    StiffNote note{{}, modes_of(string, grid, 20), Hertz{0.0}};
    note.fundamental = note.modes[string.touched ? 1 : 0].frequency;
    note.samples.reserve(size);
    double peak = 0.0;
    for (std::size_t n = 0; n < size; ++n) {
        const double t = static_cast<double>(n) / sample_rate.value();
        const bool finger_on = string.touched && t < string.touch_for.value();
        const std::span<const double> touch = finger_on ? std::span{finger} : std::span<const double>{};
        note.samples.push_back(first.velocity(pickup) + (two_planes ? second.velocity(pickup) : 0.0));
        peak = std::max(peak, std::abs(note.samples.back()));
        for (std::size_t i = 0; i < steps_a_sample; ++i) {
            double slope = 0.0;
            if (string.stretch_stiffness > 0.0) slope = first.slope() + (two_planes ? second.slope() : 0.0);
            const double factor = 1.0 + 0.5 * string.stretch_stiffness * slope;
            first.step(factor, touch);
            if (two_planes) second.step(factor, touch);
        }
    }
    for (double& x : note.samples)
        x *= string.amplitude / peak;
    return note;
}

}  // namespace midspan::test
