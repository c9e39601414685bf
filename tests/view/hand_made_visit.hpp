// hand_made_visit.hpp: a whole visit as a bench could have left it, written down by hand.
//
// Room: tests/view.
#pragma once

#include <array>
#include <vector>

#include "midspan/advice/saddle_move.hpp"
#include "midspan/record/setup_record.hpp"
#include "view/hand_made_analysis.hpp"

namespace midspan::test {

/// A six-string electric with every line of its entry filled in.
inline InstrumentEntry hand_made_entry() {
    const Millimetres scale{648.0};
    Saddle saddle;
    saddle.thread_pitch = Millimetres{0.635};
    saddle.clockwise_is_toward_tail = true;
    InstrumentEntry entry{make_instrument(standard_tuning, {&scale, 1}, Hertz{440.0}, saddle).value(),
                          InstrumentKind::electric,
                          "10 to 46, nickel",
                          {},
                          22,
                          Millimetres{241.3},
                          BridgeKind::individual_saddles,
                          "",
                          "2026-03-14T09:00:00Z",
                          {}};
    entry.instrument.name = "Parlour guitar";
    constexpr std::array gauges{0.010, 0.013, 0.017, 0.026, 0.036, 0.046};
    for (const double gauge : gauges) {
        entry.fitted.push_back(
            {gauge * millimetres_per_inch, gauge < 0.02 ? Winding::plain : Winding::wound, {}});
    }
    return entry;
}

/// Errors of strings 6 to 1 in cents, each with a standard uncertainty of 0.1.
inline Analysis six_strings(const std::array<double, 6>& errors) {
    constexpr std::array notes{"E2", "A2", "D3", "G3", "B3", "E4"};
    Analysis a;
    a.recordings.push_back({"take.wav", Hertz{48000.0}, 1, 1, false, Seconds{80.0}});
    for (int number = 1; number <= 6; ++number) {
        const auto place = static_cast<std::size_t>(6 - number);
        const Uncertain<Cents> error{Cents{errors[place]}, Cents{0.1}};
        a.strings.push_back(compared_string(number, notes[place], error.value, error.uncertainty,
                                            saddle_move(error, Millimetres{648.0}).toward_tail,
                                            decide(error, default_tolerance)));
    }
    return a;
}

/// As received three strings are off; two of them are moved into tolerance, the third runs out of travel.
inline Visit hand_made_visit() {
    Visit visit{1,
                "2026-03-14",
                "2026-03-14T09:26:53Z",
                {},
                "R. Winter",
                "10 to 46, nickel",
                {},
                "2026-03-13",
                {},
                {},
                "Frets levelled, crowned and polished.\nNut slots 1 and 2 lowered.",
                "Plays with a light hand.",
                {},
                {},
                {},
                {}};
    visit.temperature = Celsius{21.5};
    visit.humidity = RelativeHumidity{48.0};
    const BenchMethod relief{{1}, true, {}, 7, "", "feeler gauge"};
    const BenchMethod action{{}, false, {}, 12, "", "ruler"};
    visit.measurements = {
        {"2026-03-14T09:30:00Z", BenchQuantity::relief, Millimetres{0.40}, "0.40", {}, relief, ""},
        {"2026-03-14T09:31:00Z", BenchQuantity::action, Millimetres{2.2}, "2.2", 6, action, ""},
        {"2026-03-14T09:32:00Z", BenchQuantity::action, Millimetres{1.8}, "1.8", 1, action, ""},
        {"2026-03-14T10:10:00Z", BenchQuantity::relief, Millimetres{0.25}, "0.010in", {}, relief, ""},
        {"2026-03-14T10:11:00Z", BenchQuantity::action, Millimetres{1.9}, "1.9", 6, action, ""},
        {"2026-03-14T10:12:00Z", BenchQuantity::action, Millimetres{1.5}, "1.5", 1, action, ""},
        {"2026-03-14T10:13:00Z",
         BenchQuantity::nut_height,
         Millimetres{0.5},
         "0.5",
         6,
         {{}, false, {}, 1, "", "feeler gauge"},
         ""}};
    visit.readings.push_back(
        {"2026-03-14T09:40:00Z", ReadingSource::analyze, six_strings({6.39, 0.31, -4.0, 9.83, -0.38, 1.45})});
    visit.moves = {{"2026-03-14T09:50:00Z", 6, Millimetres{2.38}, Turns{3.75}, ""},
                   {"2026-03-14T09:52:00Z", 4, Millimetres{-1.5}, {}, ""},
                   {"2026-03-14T09:54:00Z", 3, Millimetres{2.4}, {}, ""}};
    Analysis after = six_strings({0.12, 0.29, -0.2, 3.4, -0.35, 1.45});
    after.strings[2].warnings.push_back(WarningCode::travel_exceeded);
    visit.readings.push_back({"2026-03-14T10:20:00Z", ReadingSource::analyze, std::move(after)});
    return visit;
}

}  // namespace midspan::test
