// record_section.cpp: how long a setup record of many years makes one wait.
//
// Room: tools/benchmark. Edge: the disk and the clock. May include: ground to record, tests/support.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <stdexcept>
#include <string>

#include "benchmark/section.hpp"
#include "midspan/record/record_store.hpp"
#include "support/temp_folder.hpp"

namespace midspan::benchmark {
namespace {

constexpr int instruments = 500;
constexpr int visits_each = 20;

/// A visit with what is usual: five numbers and a reading of six strings, three pairs each.
Visit usual_visit(const Instrument& instrument, int number) {
    Visit visit{};
    visit.number = number;
    visit.day = fmt::format("{}-03-14", 2000 + number);
    visit.begun_at = visit.day + "T09:00:00Z";
    visit.ended_at = visit.day + "T11:00:00Z";
    visit.who = "Ada";
    visit.work_done = "full setup";
    for (int i = 0; i < 5; ++i) {
        visit.measurements.push_back({visit.begun_at,
                                      BenchQuantity::action,
                                      Millimetres{1.6},
                                      "1.6",
                                      i + 1,
                                      {{}, false, std::nullopt, 12, "", "ruler"},
                                      ""});
    }
    Analysis analysis;
    analysis.recordings.push_back({"take.wav", Hertz{48000.0}, 1, 1, false, Seconds{90.0}});
    for (const InstrumentString& string : instrument.strings) {
        const Uncertain<Hertz> frequency{2.0 * string.open_frequency, Hertz{0.01}};
        analysis.strings.push_back({string,
                                    {},
                                    OctaveComparison{frequency,
                                                     frequency,
                                                     Cents{0.1},
                                                     Cents{0.1},
                                                     3,
                                                     3,
                                                     {Cents{1.0}, Cents{0.1}},
                                                     Cents{0.1},
                                                     false},
                                    SaddleMove{Millimetres{0.4}, Millimetres{0.04}},
                                    {},
                                    {},
                                    Verdict::in_tolerance,
                                    {}});
        for (int pluck = 0; pluck < 6; ++pluck) {
            PitchReading pitch;
            pitch.frequency = frequency.value;
            analysis.plucks.push_back({0,
                                       Seconds{4.0 * pluck},
                                       string.number,
                                       pluck % 2 == 0 ? NoteKind::harmonic : NoteKind::fretted,
                                       true,
                                       Decibels{-20.0},
                                       pitch,
                                       {}});
        }
    }
    visit.readings.push_back({visit.begun_at, ReadingSource::analyze, std::move(analysis)});
    return visit;
}

SetupRecord many_years() {
    const std::array scale{Millimetres{648.0}};
    const Instrument instrument = make_instrument(standard_tuning, scale, Hertz{440.0}, {}).value();
    SetupRecord record;
    for (int i = 0; i < instruments; ++i) {
        InstrumentEntry entry{instrument};
        entry.instrument.name = fmt::format("guitar {}", i);
        entry.added_at = "2000-01-01T00:00:00Z";
        record.instruments.push_back({std::move(entry), {}, {}});
        for (int number = 1; number <= visits_each; ++number)
            record.instruments.back().visits.push_back(usual_visit(instrument, number));
    }
    return record;
}

/// The longest of a few runs, each with the file opened anew as a command does.
template <class Look>
double milliseconds(const std::string& path, int trials, const Look& look) {
    using Clock = std::chrono::steady_clock;
    double longest = 0.0;
    for (int trial = 0; trial < trials; ++trial) {
        const auto begin = Clock::now();
        auto store = RecordStore::open(path);
        if (!store || !look(store.value())) throw std::runtime_error{path + " cannot be read"};
        longest = std::max(longest, std::chrono::duration<double, std::milli>(Clock::now() - begin).count());
    }
    return longest;
}

}  // namespace

void record_section(const Settings& settings, Report& report) {
    const test::TempFolder folder;
    const std::string path = folder.file("record.sqlite");
    {
        auto store = RecordStore::open(path);
        if (!store || store.value().take_in(many_years()))
            throw std::runtime_error{path + " cannot be filled"};
    }
    const int trials = settings.trials_or(20);
    const std::string of = fmt::format("setup record of {} visits: ", instruments * visits_each);
    const auto figure = [&](const char* what, const auto& look) {
        report.figures.push_back({of + what, milliseconds(path, trials, look), "ms", 100.0});
    };
    figure("list all instruments", [](RecordStore& store) { return store.instruments().ok(); });
    figure("list an instrument's visits", [](RecordStore& store) { return store.visits("guitar 250").ok(); });
    figure("show a visit", [](RecordStore& store) { return store.visit("guitar 499", visits_each).ok(); });
    figure("history of a string", [](RecordStore& store) { return store.history("guitar 1", 6).ok(); });
}

}  // namespace midspan::benchmark
