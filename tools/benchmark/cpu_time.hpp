// cpu_time.hpp: how long the processor worked.
//
// Room: tools/benchmark. Edge: the clock.
#pragma once

#include <sys/resource.h>

#include "midspan/units.hpp"

namespace midspan::benchmark {

/// Processor time so far: RUSAGE_SELF of this process, RUSAGE_CHILDREN of those it has waited for.
[[nodiscard]] inline Seconds cpu_time(int who = RUSAGE_SELF) {
    rusage usage{};
    getrusage(who, &usage);
    const auto seconds = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
    };
    return Seconds{seconds(usage.ru_utime) + seconds(usage.ru_stime)};
}

/// Counts only what happens between start() and stop().
class CpuWatch {
public:
    void start() { began_ = cpu_time(); }
    void stop() { total_ = total_ + (cpu_time() - began_); }
    [[nodiscard]] Seconds total() const { return total_; }

private:
    Seconds began_{0.0};
    Seconds total_{0.0};
};

}  // namespace midspan::benchmark
