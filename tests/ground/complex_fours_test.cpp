// complex_fours_test.cpp: complex numbers four at a time.
//
// Room: tests/ground.
#include "ground/complex_fours.hpp"

#include <doctest/doctest.h>

#include <array>
#include <complex>
#include <cstddef>

namespace midspan::test {
namespace {

using Complex = std::complex<double>;
constexpr std::array<Complex, 5> some{Complex{1.0, 2.0}, Complex{-3.0, 0.5}, Complex{0.0, -1.0},
                                      Complex{4.0, 4.0}, Complex{-0.25, 0.75}};

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("four numbers at once come out as each by itself") {
        ComplexFours row{some.size()};
        for (std::size_t i = 0; i < some.size(); ++i)
            row.set(i, some[i]);
        const Complex factor{0.5, -2.0};
        const FourComplex turned = product(factor, row.four_at(1));
        const FourComplex back = turned_back(row.four_at(0), row.four_at(1));
        FourDoubles norms{};
        add_norm(row.four_at(0), norms);
        Complex sum{};
        for (std::size_t i = 0; i < 4; ++i) {
            CAPTURE(i);
            CHECK(Complex{turned.real[i], turned.imaginary[i]} == factor * some[i + 1]);
            CHECK(Complex{back.real[i], back.imaginary[i]} == std::conj(some[i]) * some[i + 1]);
            const double norm = norms[i];
            CHECK(norm == std::norm(some[i]));
            sum += some[i];
        }
        CHECK(total(row.four_at(0)) == sum);
    }

    TEST_CASE("behind the end of a row nothing counts") {
        ComplexFours row{8};
        for (std::size_t i = 0; i < 8; ++i)
            row.set(i, some[0]);
        row.end_at(5);
        CHECK(row.at(4) == some[0]);
        CHECK(total(row.four_at(4)) == some[0]);
        row.end_at(4);
        CHECK(total(row.four_at(0)) == 4.0 * some[0]);
    }
}

}  // namespace midspan::test
