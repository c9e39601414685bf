// main.cpp: runs the sections asked for and writes what they found into one folder.
//
// Room: tools/benchmark. Edge: the disk.
#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <exception>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <stdexcept>
#include <string>
#include <thread>
#include <vector>

#include "benchmark/section.hpp"

namespace midspan::benchmark {
namespace {

constexpr std::string_view readme_begin = "<!-- benchmark: begin -->\n";
constexpr std::string_view readme_end = "<!-- benchmark: end -->\n";

Machine this_machine() {
    Machine machine{"unknown processor", std::thread::hardware_concurrency()};
    std::ifstream file{"/proc/cpuinfo"};
    for (std::string line; std::getline(file, line);) {
        if (!line.starts_with("model name")) continue;
        machine.processor = line.substr(std::min(line.size(), line.find(':') + 2));
        break;
    }
    return machine;
}

void write(const std::filesystem::path& path, const std::string& content) {
    if (!(std::ofstream{path, std::ios::binary} << content))
        throw std::runtime_error{path.string() + " cannot be written"};
}

/// Puts the figures between the two marks in the README and the pictures beside the benchmark.
void publish(const std::filesystem::path& checkout, const Report& report, const Machine& machine) {
    const std::filesystem::path path = checkout / "README.md";
    std::string readme;
    {
        std::ifstream file{path, std::ios::binary};
        readme.assign(std::istreambuf_iterator<char>{file}, {});
    }
    const std::size_t begin = readme.find(readme_begin);
    const std::size_t end = readme.find(readme_end);
    if (begin == std::string::npos || end == std::string::npos || end < begin)
        throw std::runtime_error{path.string() + " lacks the marks between which the figures stand"};
    const std::size_t from = begin + readme_begin.size();
    write(path, readme.replace(from, end - from, as_markdown(report, machine)));
    const std::filesystem::path pictures = checkout / "tools/benchmark/results";
    std::filesystem::create_directories(pictures);
    for (const Chart& chart : report.charts)
        write(pictures / (chart.name + ".svg"), as_svg(chart));
}

int run(int argc, const char* const* argv) {
    CLI::App app{"Measures how good midspan is, and writes a table, JSON and pictures into one folder."};
    std::string folder = "benchmark-results";
    std::string checkout;
    std::vector<std::string> wanted;
    Settings settings;
    std::vector<std::string> names;
    std::string about = "Sections:\n";
    for (const Section& section : sections()) {
        names.emplace_back(section.name);
        about += fmt::format("  {:15}{}\n", section.name, section.about);
    }
    app.footer(about);
    app.add_option("sections", wanted, "What to run; all, unless named")->check(CLI::IsMember(names));
    app.add_option("--trials", settings.trials, "Trials of each kind, for a quick run")
        ->check(CLI::Range(1, 100'000));
    app.add_option("--output", folder, "Folder for what is found")->capture_default_str();
    app.add_option("--program", settings.program, "Path of the program midspan, for its speed");
    app.add_option("--publish", checkout, "Checkout whose README gets the figures");
    try {
        app.parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        return app.exit(error) == 0 ? 0 : 2;
    }

    if (!checkout.empty() && (!wanted.empty() || settings.trials)) {
        std::cerr << "benchmark: only a whole run is published; leave out sections and --trials\n";
        return 2;
    }
    Report report;
    for (const Section& section : sections()) {
        if (!wanted.empty() && std::find(wanted.begin(), wanted.end(), section.name) == wanted.end())
            continue;
        std::cerr << fmt::format("benchmark: {}: {}\n", section.name, section.about);
        section.run(settings, report);
    }

    const Machine machine = this_machine();
    const std::filesystem::path results{folder};
    std::filesystem::create_directories(results);
    const std::string text = as_text(report, machine);
    write(results / "table.txt", text);
    write(results / "benchmark.json", as_json(report, machine));
    for (const Chart& chart : report.charts)
        write(results / (chart.name + ".svg"), as_svg(chart));
    if (!checkout.empty()) publish(checkout, report, machine);
    std::cout << text;
    return 0;
}

}  // namespace
}  // namespace midspan::benchmark

int main(int argc, char** argv) {
    try {
        return midspan::benchmark::run(argc, argv);
    } catch (const std::exception& error) {
        std::cerr << "benchmark: " << error.what() << "\n";
        return 1;
    }
}
