// coupled_planes.cpp: how two planes of one partial drive each other.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/coupled_planes.hpp"

#include <algorithm>
#include <cmath>

namespace midspan {
namespace {

constexpr double longest_turn = 0.3;  // rad in one step

using Lanes = std::array<double, swung_at_once>;

// Complex numbers side by side, written out so that a compiler sees what goes on in each lane alike.
struct ComplexLanes {
    Lanes real{};
    Lanes imaginary{};

    void set(std::size_t lane, std::complex<double> value) {
        real[lane] = value.real();
        imaginary[lane] = value.imag();
    }
    [[nodiscard]] std::complex<double> at(std::size_t lane) const { return {real[lane], imaginary[lane]}; }

    void multiply(const ComplexLanes& by) {
        for (std::size_t i = 0; i < swung_at_once; ++i) {
            const double product = real[i] * by.real[i] - imaginary[i] * by.imaginary[i];
            imaginary[i] = real[i] * by.imaginary[i] + imaginary[i] * by.real[i];
            real[i] = product;
        }
    }
};

// exp(i angle) of as much as one step turns, to 1e-7.
ComplexLanes turns(const Lanes& angle) {
    ComplexLanes turn;
    for (std::size_t i = 0; i < swung_at_once; ++i) {
        const double x = angle[i] * angle[i];
        turn.real[i] = 1.0 - x / 2.0 * (1.0 - x * (1.0 / 12.0) * (1.0 - x * (1.0 / 30.0)));
        turn.imaginary[i] =
            angle[i] * (1.0 - x * (1.0 / 6.0) * (1.0 - x * (1.0 / 20.0) * (1.0 - x * (1.0 / 42.0))));
    }
    return turn;
}

// Half a step of dying and drifting, a step of driving, half a step again (G. Strang 1968, from memory), as
// often as it takes.
struct Stride {
    Stride(std::span<const CoupledPlanes, swung_at_once> planes, double duration, double pace)
        : steps{static_cast<int>(pace * duration / longest_turn) + 1} {
        const double step = duration / steps;
        for (std::size_t i = 0; i < swung_at_once; ++i) {
            driving[i] = planes[i].self * step;
            first[i] = std::exp(-0.5 * step * planes[i].first_decay);
            second.set(
                i, std::polar(std::exp(-0.5 * step * planes[i].second_decay), 0.5 * step * planes[i].drift));
        }
    }

    int steps;
    Lanes driving{};
    Lanes first{};
    ComplexLanes second;
};

struct Swing {
    ComplexLanes first;
    ComplexLanes second;

    void go_on(const Stride& stride) {
        for (int step = 0; step < stride.steps; ++step) {
            die(stride);
            drive(stride);
            die(stride);
        }
    }

    void die(const Stride& stride) {
        for (std::size_t i = 0; i < swung_at_once; ++i) {
            first.real[i] *= stride.first[i];
            first.imaginary[i] *= stride.first[i];
        }
        second.multiply(stride.second);
    }

    // Of A + i B and A - i B driving is no more than turning, each by the square of the other.
    void drive(const Stride& stride) {
        ComplexLanes left, right;
        Lanes by_left, by_right;
        for (std::size_t i = 0; i < swung_at_once; ++i) {
            left.real[i] = first.real[i] - second.imaginary[i];
            left.imaginary[i] = first.imaginary[i] + second.real[i];
            right.real[i] = first.real[i] + second.imaginary[i];
            right.imaginary[i] = first.imaginary[i] - second.real[i];
            by_left[i] =
                stride.driving[i] * (left.real[i] * left.real[i] + left.imaginary[i] * left.imaginary[i]);
            by_right[i] =
                stride.driving[i] * (right.real[i] * right.real[i] + right.imaginary[i] * right.imaginary[i]);
        }
        left.multiply(turns(by_right));
        right.multiply(turns(by_left));
        for (std::size_t i = 0; i < swung_at_once; ++i) {
            first.real[i] = 0.5 * (left.real[i] + right.real[i]);
            first.imaginary[i] = 0.5 * (left.imaginary[i] + right.imaginary[i]);
            second.real[i] = 0.5 * (left.imaginary[i] - right.imaginary[i]);
            second.imaginary[i] = 0.5 * (right.real[i] - left.real[i]);
        }
    }
};

}  // namespace

double CoupledPlanes::pace() const { return std::max(std::abs(self), std::abs(drift)); }

void swing(std::span<const CoupledPlanes, swung_at_once> planes, double start, double hop, double pace,
           std::size_t length, SwungPlanes& swung) {
    Swing now;
    for (std::size_t i = 0; i < swung_at_once; ++i) {
        now.first.set(i, std::cos(planes[i].angle));
        now.second.set(i, std::polar(std::sin(planes[i].angle), planes[i].phase));
    }
    now.go_on({planes, start, pace});
    const Stride stride{planes, hop, pace};
    for (std::size_t m = 0; m < length; ++m) {
        if (m > 0) now.go_on(stride);
        for (std::size_t i = 0; i < swung_at_once; ++i) {
            swung[i][0][m] = now.first.at(i);
            swung[i][1][m] = now.second.at(i);
        }
    }
}

}  // namespace midspan
