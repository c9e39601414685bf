// widest_registers.hpp: the same loops in the widest registers at hand.
//
// Room: ground. Pure. May include: nothing.
#pragma once

#include <cstring>

namespace midspan {

/// Numbers side by side; what processors without wide registers do in two goes.
using FourDoubles = double __attribute__((vector_size(32)));
using EightFloats = float __attribute__((vector_size(32)));

inline void load(FourDoubles& four, const double* from) { std::memcpy(&four, from, sizeof four); }
inline void load(EightFloats& eight, const float* from) { std::memcpy(&eight, from, sizeof eight); }
inline void store(const FourDoubles& four, double* to) { std::memcpy(to, &four, sizeof four); }

#if defined(__x86_64__)
// What most processors since 2011 can, but no compiler may take for granted: four doubles to a register.
inline const bool has_wide_registers = __builtin_cpu_supports("avx") != 0;

/// `work()`, with all that it calls compiled into it for wide registers.
template <typename Work>
__attribute__((target("avx"), flatten)) auto in_wide_registers(const Work& work) {
    return work();
}
#else
inline constexpr bool has_wide_registers = false;
template <typename Work>
auto in_wide_registers(const Work& work) {
    return work();
}
#endif

/// `work()`, compiled once for every processor and once for wide registers. Sums keep their order and no
/// product is fused with a sum, so that the result is the same to the last bit either way.
template <typename Work>
auto in_widest_registers(const Work& work) {
    return has_wide_registers ? in_wide_registers(work) : work();
}

}  // namespace midspan
