// coupled_planes.cpp: how two planes of one partial drive each other.
//
// Room: pitch. Pure. May include: ground.
#include "pitch/coupled_planes.hpp"

#include <algorithm>
#include <cmath>
#include <cstring>

#include "ground/widest_registers.hpp"

namespace midspan {
namespace {

constexpr double longest_turn = 0.3;  // rad in one step

// One number of each string, side by side.
using Lanes = double __attribute__((vector_size(8 * swung_at_once)));

// Complex ones likewise.
struct ComplexLanes {
    Lanes real{};
    Lanes imaginary{};

    void set(std::size_t lane, std::complex<double> value) {
        real[lane] = value.real();
        imaginary[lane] = value.imag();
    }
    void multiply(const ComplexLanes& by) {
        const Lanes product = real * by.real - imaginary * by.imaginary;
        imaginary = real * by.imaginary + imaginary * by.real;
        real = product;
    }
    // By exp(i angle) of as much as one step turns, to 1e-7.
    void turn(const Lanes& angle) {
        const Lanes x = angle * angle;
        multiply({1.0 - x / 2.0 * (1.0 - x * (1.0 / 12.0) * (1.0 - x * (1.0 / 30.0))),
                  angle * (1.0 - x * (1.0 / 6.0) * (1.0 - x * (1.0 / 20.0) * (1.0 - x * (1.0 / 42.0))))});
    }
};

// Half a step of dying and drifting, a step of driving, half a step again (G. Strang 1968, from memory), as
// often as it takes.
struct Stride {
    Stride(std::span<const CoupledPlanes, swung_at_once> planes, double duration, double pace)
        : steps{static_cast<int>(pace * duration / longest_turn) + 1} {
        const double step = duration / steps;
        double dying = 0.0;
        std::complex<double> drifting;
        for (std::size_t i = 0; i < swung_at_once; ++i) {
            const CoupledPlanes& mine = planes[i];
            // Most strings at once differ by little: what two in a row share is worked out once.
            const CoupledPlanes* last = i > 0 ? &planes[i - 1] : nullptr;
            if (!last || last->first_decay != mine.first_decay)
                dying = std::exp(-0.5 * step * mine.first_decay);
            if (!last || last->second_decay != mine.second_decay || last->drift != mine.drift)
                drifting = std::polar(std::exp(-0.5 * step * mine.second_decay), 0.5 * step * mine.drift);
            driving[i] = mine.self * step;
            first[i] = dying;
            second.set(i, drifting);
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

    void show(SwungPlanes& swung) const {
        std::memcpy(&swung.first_real, &first.real, sizeof first.real);
        std::memcpy(&swung.first_imaginary, &first.imaginary, sizeof first.imaginary);
        std::memcpy(&swung.second_real, &second.real, sizeof second.real);
        std::memcpy(&swung.second_imaginary, &second.imaginary, sizeof second.imaginary);
    }

    void die(const Stride& stride) {
        first.real *= stride.first;
        first.imaginary *= stride.first;
        second.multiply(stride.second);
    }

    // Of A + i B and A - i B driving is no more than turning, each by the square of the other.
    void drive(const Stride& stride) {
        ComplexLanes left{first.real - second.imaginary, first.imaginary + second.real};
        ComplexLanes right{first.real + second.imaginary, first.imaginary - second.real};
        const Lanes by_left = stride.driving * (left.real * left.real + left.imaginary * left.imaginary);
        const Lanes by_right = stride.driving * (right.real * right.real + right.imaginary * right.imaginary);
        left.turn(by_right);
        right.turn(by_left);
        first = {0.5 * (left.real + right.real), 0.5 * (left.imaginary + right.imaginary)};
        second = {0.5 * (left.imaginary - right.imaginary), 0.5 * (right.real - left.real)};
    }
};

}  // namespace

double CoupledPlanes::pace() const { return std::max(std::abs(self), std::abs(drift)); }

void swing(std::span<const CoupledPlanes, swung_at_once> planes, double start, double hop, double pace,
           std::span<SwungPlanes> swung) {
    Swing now;
    for (std::size_t i = 0; i < swung_at_once; ++i) {
        now.first.set(i, std::cos(planes[i].angle));
        now.second.set(i, std::polar(std::sin(planes[i].angle), planes[i].phase));
    }
    const Stride first{planes, start, pace};
    const Stride others{planes, hop, pace};
    in_widest_registers([&] {
        const Stride* stride = &first;
        for (SwungPlanes& here : swung) {
            now.go_on(*stride);
            now.show(here);
            stride = &others;
        }
    });
}

}  // namespace midspan
