// live_section.cpp: the program while it listens: how soon it says what, and what it costs.
//
// Room: tools/benchmark. Edge: the disk, the clock and another program. May include: ground, tests/support.
#include <fcntl.h>
#include <spawn.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include <array>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "benchmark/section.hpp"
#include "benchmark/statistics.hpp"
#include "support/neck_string.hpp"
#include "support/sound_file.hpp"
#include "support/temp_folder.hpp"
#include "support/virtual_mic/virtual_mic.hpp"

namespace midspan::benchmark {
namespace {

using Json = nlohmann::json;

constexpr Hertz rate{48'000.0};
constexpr Seconds ring{3.0};

/// What is played, and the truth about it; starts are counted from the beginning of the whole.
struct Performance {
    std::vector<float> samples;
    std::vector<test::TakenPluck> plucks;
};

/// Two pairs of each string.
Performance performance_of(int strings) {
    constexpr std::array<double, 6> open{82.407, 110.0, 146.832, 195.998, 246.942, 329.628};
    Performance performance;
    for (int i = 0; i < strings; ++i) {
        const auto n = static_cast<std::size_t>(i) % open.size();
        test::NeckString string{Hertz{open[n]}, 6e-5, Cents{3.0}};
        string.manner.glide = Cents{4.0};
        const test::Take take =
            test::take_of(string, {.pairs = 2, .ring = ring, .gap = Seconds{0.5}, .seed = 70 + n});
        const Seconds before{static_cast<double>(performance.samples.size()) / rate.value()};
        for (test::TakenPluck pluck : take.plucks) {
            pluck.start = pluck.start + before;
            performance.plucks.push_back(pluck);
        }
        const std::vector<float> part = test::floats(take.samples);
        performance.samples.insert(performance.samples.end(), part.begin(), part.end());
    }
    return performance;
}

struct Line {
    Seconds arrived;  ///< by the monotonic clock
    Json object;
};

struct Session {
    std::vector<Line> lines;
    Seconds began{0.0};  ///< by the monotonic clock
    Seconds listened{0.0};
    Seconds worked{0.0};  ///< processor time
};

Seconds now() {
    timespec time{};
    clock_gettime(CLOCK_MONOTONIC, &time);
    return Seconds{static_cast<double>(time.tv_sec) + 1e-9 * static_cast<double>(time.tv_nsec)};
}

std::vector<char*> pointers(std::vector<std::string>& texts) {
    std::vector<char*> all;
    for (std::string& text : texts)
        all.push_back(text.data());
    all.push_back(nullptr);
    return all;
}

/// Lets the program listen until the microphone is unplugged, and notes when each line comes.
Session listen(const std::string& program, const test::VirtualMic& mic) {
    int ends[2];
    if (pipe(ends) != 0) throw std::runtime_error{"no pipe"};
    posix_spawn_file_actions_t streams;
    posix_spawn_file_actions_init(&streams);
    posix_spawn_file_actions_adddup2(&streams, ends[1], STDOUT_FILENO);
    posix_spawn_file_actions_addclose(&streams, ends[0]);
    posix_spawn_file_actions_addopen(&streams, STDERR_FILENO, "/dev/null", O_WRONLY, 0);
    std::vector<std::string> words{program, "listen", "--scale-length", "648", "--json"};
    std::vector<std::string> variables = mic.variables();
    pid_t child = 0;
    const int fault = posix_spawn(&child, program.c_str(), &streams, nullptr, pointers(words).data(),
                                  pointers(variables).data());
    posix_spawn_file_actions_destroy(&streams);
    close(ends[1]);
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> out{fdopen(ends[0], "r"), std::fclose};
    if (fault != 0 || !out) throw std::runtime_error{program + " cannot be run"};

    Session session;
    char* line = nullptr;
    std::size_t size = 0;
    while (getline(&line, &size, out.get()) > 0)
        session.lines.push_back({now(), Json::parse(line)});
    std::free(line);
    int status = 0;
    rusage usage{};
    if (wait4(child, &status, 0, &usage) != child) throw std::runtime_error{program + " was lost"};
    const auto seconds = [](const timeval& time) {
        return static_cast<double>(time.tv_sec) + 1e-6 * static_cast<double>(time.tv_usec);
    };
    const auto began = mic.began();
    if (!began) throw std::runtime_error{program + " did not listen"};
    session.began = *began;
    session.listened = now() - *began;
    session.worked = Seconds{seconds(usage.ru_utime) + seconds(usage.ru_stime)};
    return session;
}

/// When it was known of one pluck, in seconds after the pluck, or after its end; nothing: never.
struct Known {
    std::optional<double> first;       ///< first reading
    std::optional<double> first_off;   ///< its error, cents
    std::optional<double> sufficient;  ///< a reading that is known to +-0.3 cent
    std::optional<double> final;       ///< the finished note, after the end of the note
};

Known known_of(const test::TakenPluck& pluck, const Session& session) {
    Known known;
    for (const Line& line : session.lines) {
        const Seconds after = line.arrived - session.began - pluck.start;
        if (after < Seconds{0.0} || after > ring + Seconds{0.5} || !line.object.contains("event")) continue;
        if (line.object["event"] == "reading") {
            if (!known.first) {
                known.first = after.value();
                const Hertz frequency{line.object["frequency_hz"].get<double>()};
                known.first_off = magnitude(interval(pluck.frequency, frequency)).value();
            }
            const bool enough = line.object["uncertainty_cents"].get<double>() <= 0.15;
            if (enough && !known.sufficient) known.sufficient = after.value();
        } else if (line.object["event"] == "note" && after > ring - Seconds{0.5} && !known.final) {
            known.final = (after - ring).value();
        }
    }
    return known;
}

}  // namespace

void live_section(const Settings& settings, Report& report) {
    if (settings.program.empty()) {
        report.remarks.emplace_back("live: needs --program");
        return;
    }
    const Performance performance = performance_of(settings.trials_or(6));
    const test::TempFolder folder;
    const std::string file = folder.file("played.wav");
    test::write_sound_file(file, performance.samples, {rate, 1});
    const double seconds = static_cast<double>(performance.samples.size()) / rate.value();
    const test::VirtualMic mic{file, {.speed = 1.0, .unplug_ms = static_cast<int>(1000.0 * (seconds + 1.0))}};
    const Session session = listen(settings.program, mic);

    Table table{
        "live",
        "The program while it listens: seconds after the pluck, through sound system and pipe",
        {"pluck at s", "first reading", "its error cents", "known to ± 0.3 cent", "final, after its end"},
        {}};
    std::vector<double> firsts;
    std::vector<double> errors;
    std::vector<double> sufficient;
    std::vector<double> finals;
    const double never = std::nan("");
    for (const test::TakenPluck& pluck : performance.plucks) {
        const Known known = known_of(pluck, session);
        table.rows.push_back({pluck.start.value(), known.first.value_or(never),
                              known.first_off.value_or(never), known.sufficient.value_or(never),
                              known.final.value_or(never)});
        firsts.push_back(known.first.value_or(ring.value()));
        errors.push_back(known.first_off.value_or(1000.0));
        sufficient.push_back(known.sufficient.value_or(ring.value()));
        finals.push_back(known.final.value_or(ring.value()));
    }
    report.tables.push_back(std::move(table));
    report.figures.push_back(
        {"live: first reading after the pluck, 95 % below", quantile(firsts, 0.95), "s", 0.3});
    report.figures.push_back(
        {"live: error of that reading, 95 % below", quantile(errors, 0.95), "cent", 2.0});
    report.figures.push_back(
        {"live: known to ± 0.3 cent after the pluck, median", quantile(sufficient, 0.5), "s", 1.2});
    report.figures.push_back(
        {"live: final after the end of the note, 95 % below", quantile(finals, 0.95), "s", 0.2});
    report.figures.push_back(
        {"live: share of one core", 100.0 * (session.worked / session.listened), "%", 15.0});
}

}  // namespace midspan::benchmark
