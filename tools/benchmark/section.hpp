// section.hpp: the parts of the benchmark, each in a file of its own.
//
// Room: tools/benchmark.
#pragma once

#include <optional>
#include <span>
#include <string>

#include "benchmark/report.hpp"

namespace midspan::benchmark {

struct Settings {
    std::optional<int> trials;  ///< in place of what a section thinks right
    std::string program;        ///< path of the program midspan

    [[nodiscard]] int trials_or(int usual) const { return trials.value_or(usual); }
};

/// A section adds what it finds to the report. To add one: a function in a file of its own, its declaration
/// here, its line in sections.cpp.
struct Section {
    const char* name;
    const char* about;
    void (*run)(const Settings& settings, Report& report);
};

void accuracy_section(const Settings& settings, Report& report);
void libraries_section(const Settings& settings, Report& report);
void coverage_section(const Settings& settings, Report& report);
void reach_section(const Settings& settings, Report& report);
void shifts_section(const Settings& settings, Report& report);
void first_reading_section(const Settings& settings, Report& report);
void live_section(const Settings& settings, Report& report);
void survey_section(const Settings& settings, Report& report);
void throughput_section(const Settings& settings, Report& report);
void record_section(const Settings& settings, Report& report);

/// All of them, in the order of the report.
[[nodiscard]] std::span<const Section> sections();

}  // namespace midspan::benchmark
