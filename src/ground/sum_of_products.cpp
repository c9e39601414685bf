// sum_of_products.cpp: sixteen sums side by side, in the widest registers at hand.
//
// Room: ground. Pure. May include: nothing.
#include "ground/sum_of_products.hpp"

#include <cassert>

#include "ground/widest_registers.hpp"

namespace midspan {
namespace {

constexpr std::size_t lanes = sums_side_by_side;

// Of whole groups of sixteen.
float sum_of_groups(const float* a, const float* b, std::size_t count) {
    EightFloats low{};
    EightFloats high{};
    for (std::size_t i = 0; i < count; i += lanes) {
        EightFloats a_low, a_high, b_low, b_high;
        load(a_low, a + i);
        load(b_low, b + i);
        load(a_high, a + i + 8);
        load(b_high, b + i + 8);
        low += a_low * b_low;
        high += a_high * b_high;
    }
    low += high;
    return ((low[0] + low[4]) + (low[1] + low[5])) + ((low[2] + low[6]) + (low[3] + low[7]));
}

}  // namespace

float sum_of_products(std::span<const float> a, std::span<const float> b) {
    assert(a.size() == b.size());
    const std::size_t whole = a.size() / lanes * lanes;
    float sum = in_widest_registers([=] { return sum_of_groups(a.data(), b.data(), whole); });
    for (std::size_t i = whole; i < a.size(); ++i)
        sum += a[i] * b[i];
    return sum;
}

}  // namespace midspan
