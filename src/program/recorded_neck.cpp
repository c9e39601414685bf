// recorded_neck.cpp: the last visits, and what they say.
//
// Room: program. Edge: the disk.
#include "program/recorded_neck.hpp"

#include <cstddef>
#include <utility>
#include <vector>

#include "midspan/record/stated_neck.hpp"

namespace midspan::program {

Result<StatedNeck> recorded_neck(OnBench& bench) {
    if (!bench.store) {
        StatedNeck nothing;
        for (const InstrumentString& string : bench.instrument.strings)
            nothing.strings.push_back({string.number, {}, {}, {}});
        return nothing;
    }
    std::vector<Visit> visits;
    const auto listed = bench.store->visits(bench.instrument.name);
    if (!listed) return listed.error();
    const std::size_t count = listed.value().size();
    for (std::size_t i = count < 2 ? 0 : count - 2; i < count; ++i) {
        auto visit = bench.store->visit(bench.instrument.name, listed.value()[i].number);
        if (!visit) return visit.error();
        visits.push_back(std::move(visit).value());
    }
    return stated_neck(*bench.entry, visits);
}

}  // namespace midspan::program
