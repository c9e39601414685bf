// sum_of_products.cpp: sixteen sums side by side, in the widest registers at hand.
//
// Room: ground. Pure. May include: nothing.
#include "ground/sum_of_products.hpp"

#include <array>
#include <cassert>
#include <cstring>

namespace midspan {
namespace {

constexpr std::size_t lanes = sums_side_by_side;

float joined(const std::array<float, 8>& sums) {
    return ((sums[0] + sums[4]) + (sums[1] + sums[5])) + ((sums[2] + sums[6]) + (sums[3] + sums[7]));
}

// Of whole groups of sixteen.
float sum_of_groups(const float* a, const float* b, std::size_t count) {
    std::array<float, lanes> sums{};
    for (std::size_t i = 0; i < count; i += lanes) {
        for (std::size_t lane = 0; lane < lanes; ++lane)
            sums[lane] += a[i + lane] * b[i + lane];
    }
    std::array<float, 8> halves;
    for (std::size_t lane = 0; lane < 8; ++lane)
        halves[lane] = sums[lane] + sums[lane + 8];
    return joined(halves);
}

#if defined(__x86_64__)
// The same sums, eight to a register: what most processors since 2011 can, but no compiler may take for
// granted.
using Eight = float __attribute__((vector_size(32)));

__attribute__((target("avx"))) float sum_of_groups_in_eights(const float* a, const float* b,
                                                             std::size_t count) {
    Eight low{};
    Eight high{};
    for (std::size_t i = 0; i < count; i += lanes) {
        Eight a_low, a_high, b_low, b_high;
        std::memcpy(&a_low, a + i, sizeof a_low);
        std::memcpy(&b_low, b + i, sizeof b_low);
        std::memcpy(&a_high, a + i + 8, sizeof a_high);
        std::memcpy(&b_high, b + i + 8, sizeof b_high);
        low += a_low * b_low;
        high += a_high * b_high;
    }
    low += high;
    return ((low[0] + low[4]) + (low[1] + low[5])) + ((low[2] + low[6]) + (low[3] + low[7]));
}

const bool has_wide_registers = __builtin_cpu_supports("avx") != 0;
#else
constexpr bool has_wide_registers = false;
float sum_of_groups_in_eights(const float* a, const float* b, std::size_t count) {
    return sum_of_groups(a, b, count);
}
#endif

}  // namespace

float sum_of_products(std::span<const float> a, std::span<const float> b) {
    assert(a.size() == b.size());
    const std::size_t whole = a.size() / lanes * lanes;
    float sum = has_wide_registers ? sum_of_groups_in_eights(a.data(), b.data(), whole)
                                   : sum_of_groups(a.data(), b.data(), whole);
    for (std::size_t i = whole; i < a.size(); ++i)
        sum += a[i] * b[i];
    return sum;
}

}  // namespace midspan
