// report.hpp: what a section found, as values: tables, charts and figures with their goals.
//
// Room: tools/benchmark. Pure.
#pragma once

#include <optional>
#include <string>
#include <variant>
#include <vector>

#include "benchmark/chart.hpp"

namespace midspan::benchmark {

using Cell = std::variant<std::string, double>;

struct Table {
    std::string name;   ///< in the JSON
    std::string title;  ///< above it: what was done, in words
    std::vector<std::string> columns;
    std::vector<std::vector<Cell>> rows;
    bool for_readme = false;
};

/// One number to reach. A goal is met from below (an error) or from above (a speed).
struct Figure {
    std::string what;
    double measured;
    std::string unit;
    std::optional<double> at_most{};
    std::optional<double> at_least{};

    /// Not met by what is not a number.
    [[nodiscard]] bool met() const {
        return (!at_most || measured <= *at_most) && (!at_least || measured >= *at_least);
    }
};

struct Report {
    std::vector<Figure> figures;
    std::vector<Table> tables;
    std::vector<Chart> charts;
    std::vector<std::string> remarks;  ///< what could not be done, and why
};

/// The machine, as far as it matters for speed.
struct Machine {
    std::string processor;
    unsigned cores;
};

/// Three significant digits, seven decimals at most.
[[nodiscard]] std::string rounded(double value);

[[nodiscard]] std::string as_text(const Report& report, const Machine& machine);
[[nodiscard]] std::string as_json(const Report& report, const Machine& machine);

/// The figures, and the tables meant for it, as the README shows them.
[[nodiscard]] std::string as_markdown(const Report& report, const Machine& machine);

}  // namespace midspan::benchmark
