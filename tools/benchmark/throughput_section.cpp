// throughput_section.cpp: how fast the whole program is, and what memory it takes, from a minute to two
// hours.
//
// Room: tools/benchmark. Edge: the disk, the clock and another program. May include: ground, tests/support.
#include <fcntl.h>
#include <fmt/format.h>
#include <sndfile.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <fstream>
#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <thread>
#include <utility>
#include <vector>

#include "benchmark/section.hpp"
#include "support/neck_string.hpp"
#include "support/temp_folder.hpp"

namespace midspan::benchmark {
namespace {

constexpr std::array<double, 4> minutes{1.0, 10.0, 60.0, 120.0};

constexpr double minutes_beating = 10.0;

/// A short and hard one: a pluck every two seconds, partials that go their own ways, hum and noise.
constexpr const char* shipped = MIDSPAN_TEST_AUDIO "/six-strings.wav";

/// Six strings, plucked as the README asks for it: a quarter of a minute of each. In one plane, or in two
/// that beat.
std::vector<float> six_strings(bool beating) {
    constexpr std::array<double, 6> open{82.407, 110.0, 146.832, 195.998, 246.942, 329.628};
    std::vector<float> samples;
    for (std::size_t i = 0; i < open.size(); ++i) {
        test::NeckString string{Hertz{open[i]}, 6e-5, Cents{2.0}};
        string.manner.glide = Cents{4.0};
        if (beating) string.manner.second_plane = {Cents{0.4}, 0.25, 0.75 * string.manner.decay};
        const test::Take take = test::take_of(string, {.gap = Seconds{0.5}, .seed = i + 1});
        const std::vector<float> part = test::floats(take.samples);
        samples.insert(samples.end(), part.begin(), part.end());
    }
    return samples;
}

/// The performance over and over, 24 bit, 48 kHz, mono, without ever being whole in memory.
void write_recording(const std::string& path, const std::vector<float>& performance, double seconds) {
    SF_INFO info{};
    info.samplerate = 48'000;
    info.channels = 1;
    info.format = SF_FORMAT_WAV | SF_FORMAT_PCM_24;
    const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file{sf_open(path.c_str(), SFM_WRITE, &info), sf_close};
    if (!file) throw std::runtime_error{path + ": " + sf_strerror(nullptr)};
    auto left = static_cast<sf_count_t>(seconds * info.samplerate);
    while (left > 0) {
        const sf_count_t count = std::min(left, static_cast<sf_count_t>(performance.size()));
        if (sf_write_float(file.get(), performance.data(), count) != count)
            throw std::runtime_error{path + ": " + sf_strerror(file.get())};
        left -= count;
    }
}

double minutes_of(const std::string& recording) {
    SF_INFO info{};
    const std::unique_ptr<SNDFILE, int (*)(SNDFILE*)> file{sf_open(recording.c_str(), SFM_READ, &info),
                                                           sf_close};
    if (!file) throw std::runtime_error{recording + ": " + sf_strerror(nullptr)};
    return static_cast<double>(info.frames) / info.samplerate / 60.0;
}

struct Cost {
    double seconds;    ///< of processor time
    double megabytes;  ///< at most at a time, resident
};

/// The most memory a running process has held so far; nothing once it has ended.
std::optional<double> peak_megabytes(pid_t process) {
    std::ifstream status{fmt::format("/proc/{}/status", process)};
    for (std::string line; std::getline(status, line);) {
        if (line.starts_with("VmHWM:")) return std::stod(line.substr(6)) / 1024.0;
    }
    return std::nullopt;
}

/// A run of the program of its own. Its memory is looked at every few milliseconds: what the system reports
/// at the end would count what this process held when it started the other.
Cost cost_of(const std::string& program, const std::string& recording) {
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_addopen(&actions, STDOUT_FILENO, "/dev/null", O_WRONLY, 0);
    posix_spawn_file_actions_addopen(&actions, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    std::vector<std::string> words{program, "analyze", recording, "--scale-length", "648", "--json"};
    std::vector<char*> arguments;
    for (std::string& word : words)
        arguments.push_back(word.data());
    arguments.push_back(nullptr);
    pid_t child = 0;
    const int fault = posix_spawn(&child, program.c_str(), &actions, nullptr, arguments.data(), environ);
    posix_spawn_file_actions_destroy(&actions);
    if (fault != 0) throw std::runtime_error{program + " cannot be run"};
    int status = 0;
    rusage usage{};
    double megabytes = 0.0;
    pid_t ended = 0;
    while ((ended = wait4(child, &status, WNOHANG, &usage)) == 0) {
        megabytes = std::max(megabytes, peak_megabytes(child).value_or(0.0));
        std::this_thread::sleep_for(std::chrono::milliseconds{3});
    }
    if (ended != child || !WIFEXITED(status) || WEXITSTATUS(status) != 0)
        throw std::runtime_error{program + " did not measure " + recording};
    const auto seconds = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
    };
    return {seconds(usage.ru_utime) + seconds(usage.ru_stime), megabytes};
}

/// The cheapest of as many runs as a length leaves time for. What else a machine does in between, and clocks
/// that slow down, only ever add to what a run costs; of a minute's they may add half.
Cost least_cost_of(const std::string& program, const std::string& recording, int runs) {
    std::vector<Cost> costs(static_cast<std::size_t>(runs));
    for (Cost& cost : costs)
        cost = cost_of(program, recording);
    return *std::min_element(costs.begin(), costs.end(),
                             [](const Cost& one, const Cost& other) { return one.seconds < other.seconds; });
}

}  // namespace

void throughput_section(const Settings& settings, Report& report) {
    if (settings.program.empty()) {
        report.remarks.emplace_back("throughput: needs --program");
        return;
    }
    const std::vector<float> performance = six_strings(false);
    const test::TempFolder folder;
    const std::string recording = folder.file("recording.wav");
    // One trial a length; fewer lengths when fewer trials are asked for.
    const auto lengths = std::min(static_cast<std::size_t>(settings.trials_or(4)), minutes.size());

    Table table{
        "throughput",
        "The whole program, from a file of 24 bit, 48 kHz, mono to the advice, on one core; the cheapest of "
        "25 runs of up to ten minutes, of 3 of longer ones",
        {"minutes", "strings", "processor s", "times real time", "peak memory MB"},
        {}};
    const auto measure = [&](const std::string& path, double length, const std::string& strings) {
        const int runs = std::min(settings.trials_or(25), length > 10.0 ? 3 : 25);
        const Cost cost = least_cost_of(settings.program, path, runs);
        const double speed = 60.0 * length / cost.seconds;
        table.rows.push_back({length, strings, cost.seconds, speed, cost.megabytes});
        return std::pair{cost, speed};
    };
    const auto state = [&](const std::string& what, double speed) {
        report.figures.push_back({"speed, file to advice, " + what, speed, "× real time", {}, 1000.0});
    };
    std::vector<Cost> costs;
    std::vector<double> speeds;
    for (std::size_t i = 0; i < lengths; ++i) {
        write_recording(recording, performance, 60.0 * minutes[i]);
        const auto [cost, speed] = measure(recording, minutes[i], "in one plane");
        costs.push_back(cost);
        speeds.push_back(speed);
    }
    state(fmt::format("{:g} min of strings in one plane", minutes[0]), speeds.front());
    state(fmt::format("{:g} min of strings in one plane", minutes[lengths - 1]), speeds.back());
    write_recording(recording, six_strings(true), 60.0 * minutes_beating);
    state("strings that all beat", measure(recording, minutes_beating, "all beating").second);
    state("the six strings that ship", measure(shipped, minutes_of(shipped), "the six that ship").second);
    report.tables.push_back(std::move(table));
    report.figures.push_back(
        {fmt::format("peak memory, {:g} min against {:g} min", minutes[lengths - 1], minutes[0]),
         costs.back().megabytes / costs.front().megabytes, "×", 1.5});
}

}  // namespace midspan::benchmark
