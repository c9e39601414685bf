// sum_of_products_test.cpp: the same sum on every machine, for every length.
//
// Room: tests/ground.
#include "ground/sum_of_products.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <span>
#include <vector>

#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

std::vector<float> some_numbers(std::size_t count, std::uint64_t seed) {
    RandomNumbers random{seed};
    std::vector<float> numbers(count);
    for (float& number : numbers)
        number = static_cast<float>(random.uniform(-1.0, 1.0));
    return numbers;
}

// One after the other, in the order that is promised.
float in_the_promised_order(std::span<const float> a, std::span<const float> b) {
    std::array<float, 16> sums{};
    const std::size_t whole = a.size() / 16 * 16;
    for (std::size_t i = 0; i < whole; ++i) {
        const float product = a[i] * b[i];
        sums[i % 16] += product;
    }
    std::array<float, 8> s{};
    for (std::size_t i = 0; i < 8; ++i)
        s[i] = sums[i] + sums[i + 8];
    float sum = ((s[0] + s[4]) + (s[1] + s[5])) + ((s[2] + s[6]) + (s[3] + s[7]));
    for (std::size_t i = whole; i < a.size(); ++i)
        sum += a[i] * b[i];
    return sum;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("the sum is the same to the last bit whatever registers the processor has") {
        for (std::size_t count = 0; count <= 200; ++count) {
            const auto a = some_numbers(count, 2 * count);
            const auto b = some_numbers(count, 2 * count + 1);
            CHECK(sum_of_products(a, b) == in_the_promised_order(a, b));
        }
    }
    TEST_CASE("it is the sum of the products") {
        for (const std::size_t count : {1U, 15U, 16U, 17U, 250U, 4096U}) {
            const auto a = some_numbers(count, count);
            const auto b = some_numbers(count, count + 1);
            double exact = 0.0;
            double size = 0.0;
            for (std::size_t i = 0; i < count; ++i) {
                const double product = static_cast<double>(a[i]) * static_cast<double>(b[i]);
                exact += product;
                size += std::abs(product);
            }
            CHECK(std::abs(static_cast<double>(sum_of_products(a, b)) - exact) <= 1e-6 * size);
        }
    }
    TEST_CASE("where the runs begin in memory does not matter") {
        const auto a = some_numbers(300, 7);
        const auto b = some_numbers(300, 8);
        for (std::size_t shift = 0; shift < 20; ++shift) {
            const std::vector<float> moved_a(a.begin() + static_cast<std::ptrdiff_t>(shift), a.end());
            const std::vector<float> moved_b(b.begin() + static_cast<std::ptrdiff_t>(shift), b.end());
            CHECK(sum_of_products(std::span{a}.subspan(shift), std::span{b}.subspan(shift)) ==
                  sum_of_products(moved_a, moved_b));
        }
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("nothing sums to nothing, and what is no number is not hidden") {
        CHECK(sum_of_products({}, {}) == 0.0F);
        auto a = some_numbers(40, 1);
        a[5] = std::numeric_limits<float>::quiet_NaN();
        CHECK(std::isnan(sum_of_products(a, some_numbers(40, 2))));
    }
}

}  // namespace midspan::test
