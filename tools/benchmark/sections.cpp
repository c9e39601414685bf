// sections.cpp: the list of what there is to run.
//
// Room: tools/benchmark.
#include <array>

#include "benchmark/section.hpp"

namespace midspan::benchmark {

std::span<const Section> sections() {
    static constexpr std::array all{
        Section{"accuracy", "error against noise and length, with the Cramer-Rao bound", accuracy_section},
        Section{"libraries", "the same notes through aubio and Praat", libraries_section},
        Section{"coverage", "how often the truth lies within the stated uncertainty", coverage_section},
        Section{"reach", "the lowest bass string to the last fret, at every sample rate", reach_section},
        Section{"shifts", "recorded notes, shifted by known intervals", shifts_section},
        Section{"first_reading", "what is known while a note still rings", first_reading_section},
#ifdef MIDSPAN_LIVE
        Section{"live", "what is said when, and what it costs, while it listens", live_section},
#endif
        Section{"survey", "faults in necks made by physics, and what they are called", survey_section},
        Section{"throughput", "speed and memory from a minute to two hours", throughput_section},
        Section{"record", "how long a setup record of 10,000 visits makes one wait", record_section},
    };
    return all;
}

}  // namespace midspan::benchmark
