// sample_record.hpp: an instrument with a visit in which everything happened.
//
// Room: tests/record.
#pragma once

#include <array>

#include "midspan/record/setup_record.hpp"

namespace midspan::test {

inline InstrumentEntry sample_entry(const std::string& name) {
    const std::array scale{Millimetres{648.0}};
    Instrument instrument = make_instrument(standard_tuning, scale, Hertz{440.0},
                                            {Millimetres{0.5}, true, Millimetres{3.0}, std::nullopt})
                                .value();
    instrument.name = name;
    instrument.left_handed = true;
    InstrumentEntry entry{std::move(instrument)};
    entry.kind = InstrumentKind::acoustic;
    entry.strings = "light";
    entry.fitted.resize(6);
    entry.fitted[0] = {Millimetres{0.254}, Winding::plain, std::nullopt};
    entry.fitted[5] = {Millimetres{1.1684}, Winding::wound, Millimetres{0.4}};
    entry.frets = 22;
    entry.fingerboard_radius = Millimetres{304.8};
    entry.bridge = BridgeKind::shared_saddles;
    entry.notes = "a chip at the <nut>";
    entry.added_at = "2026-03-14T09:00:00Z";
    return entry;
}

inline Visit sample_visit() {
    Visit visit{};
    visit.day = "2026-03-14";
    visit.begun_at = "2026-03-14T09:10:00Z";
    visit.who = "Ada";
    visit.strings = "light";
    visit.fitted = {{Millimetres{0.254}, Winding::plain, std::nullopt}};
    visit.strings_fitted_on = "2026-03-13";
    visit.temperature = Celsius{21.5};
    visit.humidity = RelativeHumidity{45.0};
    visit.notes = "buzzes at 5";
    return visit;
}

inline BenchMeasurement sample_measurement() {
    return {"2026-03-14T09:20:00Z", BenchQuantity::relief,
            Millimetres{0.254},     "0.010in",
            std::nullopt,           {{1}, true, std::nullopt, 7, "", "feeler gauge"},
            "after a night's rest"};
}

/// One string with every number there is, one with none, plucks of both kinds, warnings.
inline IntonationReading sample_reading() {
    const InstrumentEntry entry = sample_entry("any");
    Analysis analysis{Cents{1.0}, Hertz{440.0}, {}, {}, {}, {}};
    analysis.recordings = {{"takes/low e.wav", Hertz{48000.0}, 2, 2, true, Seconds{71.25}}};
    for (const InstrumentString& string : entry.instrument.strings)
        analysis.strings.push_back(
            {string, {}, {}, {}, {}, {}, Verdict::measure_again, {WarningCode::no_plucks}});
    AnalysedString& low = analysis.strings[5];
    low.tuning = TuningCheck{Hertz{82.5}, Cents{2.0}, true};
    low.comparison = OctaveComparison{{Hertz{164.8125}, Hertz{0.0125}},
                                      {Hertz{165.0625}, Hertz{0.03125}},
                                      Cents{0.125},
                                      Cents{0.375},
                                      3,
                                      4,
                                      {Cents{2.625}, Cents{0.4375}},
                                      Cents{0.5625},
                                      true};
    low.move = SaddleMove{Millimetres{0.984375}, Millimetres{0.171875}};
    low.turns = Turns{1.96875};
    low.inharmonicity = 6.103515625e-05;
    low.verdict = Verdict::move;
    low.warnings = {WarningCode::scattered, WarningCode::travel_exceeded};
    const PitchReading pitch{
        Hertz{164.8125}, Cents{0.03125},  2.44140625e-4,   1e-6, Cents{1.5}, Seconds{0.75}, 21, Seconds{2.5},
        Decibels{41.5},  Decibels{-32.0}, Decibels{-50.0}, true, false,      true};
    analysis.plucks = {
        {0, Seconds{1.25}, 6, NoteKind::harmonic, true, Decibels{-12.5}, pitch, {WarningCode::beating}},
        {0, Seconds{4.5}, std::nullopt, std::nullopt, false, Decibels{-40.0}, std::nullopt, {}}};
    analysis.warnings = {{WarningCode::clipped, Seconds{12.5}, 6, 0, "string 6: overloaded; turn it down"},
                         {WarningCode::no_plucks, std::nullopt, 1, std::nullopt, "pluck it"}};
    return {"2026-03-14T09:30:00Z", ReadingSource::listen, analysis};
}

/// Two strings at three frets, with a finding of either kind and whatever else a survey can say.
inline NeckReading sample_survey() {
    NeckAnalysis analysis{sample_entry("any").instrument, {}, {}, {}, {}, {}, {}};
    analysis.options.capo = 1;
    analysis.options.neck.frets = 21;
    analysis.options.neck.bridge = SaddleSharing::shared_pairs;
    analysis.options.neck.weights = {{1, 2.0}};
    analysis.options.neck.targets = {{7, Cents{-1.5}}};
    analysis.options.stated.relief = Millimetres{0.25};
    for (int string = 1; string <= 6; ++string)
        analysis.options.stated.strings.push_back({string, StringGauge{Millimetres{0.5}, false, {}}, {}, {}});
    analysis.recordings = {{"takes/neck.wav", Hertz{48000.0}, 1, 1, false, Seconds{71.25}}};
    analysis.references = {{6, true, 2, Hertz{82.5}, Cents{2.0}, Cents{0.125}, 6.103515625e-05}};
    const PitchReading pitch = *sample_reading().analysis.plucks.front().reading;
    analysis.plucks = {
        {0, Seconds{1.25}, 6, 2, false, true, Decibels{-12.5}, pitch, Cents{3.5}, {WarningCode::beating}},
        {0, Seconds{2.25}, {}, {}, true, false, Decibels{-40.0}, {}, {}, {}}};
    NeckSurvey& neck = analysis.neck;
    neck.strings = {{6,
                     {Millimetres{0.5}, Millimetres{0.125}},
                     Cents{1.25},
                     SaddleAndNut{{Millimetres{0.25}, Millimetres{0.125}},
                                  {Millimetres{-0.25}, Millimetres{0.0625}},
                                  -0.5,
                                  Uncertain<Millimetres>{Millimetres{0.375}, Millimetres{0.5}},
                                  Cents{0.75}},
                     Millimetres{0.75},
                     Cents{1.5},
                     Cents{2.5},
                     Cents{0.5}}};
    neck.notes = {{6, 2, 3, 1, {Cents{3.5}, Cents{0.25}}, Cents{3.0}, Cents{0.5}, Cents{3.25}}};
    neck.frets = {{2, {Cents{1.5}, Cents{0.25}}, 1, Cents{3.5}, Cents{3.0}, Cents{0.5}}};
    neck.findings = {{{NeckCause::fret, {}, 2}, {}, {Cents{3.5}, Cents{0.5}}, 0.96875, {}, {}},
                     {{NeckCause::nut_height, {}, {}},
                      Uncertain<Millimetres>{Millimetres{0.25}, Millimetres{0.125}},
                      {Cents{2.5}, Cents{0.5}},
                      0.625,
                      {{NeckCause::saddle, {}, {}}, {NeckCause::fret_on_string, 6, 2}},
                      {{6, 4}, {6, 17}}}};
    neck.inseparable = {{5, {NeckCause::saddle, NeckCause::nut_position}, {{5, 17}}}};
    neck.detectable = {{NeckCause::fret, true, 2, Millimetres{0.75}, Millimetres{0.5}}};
    neck.bent = {{6, 2}};
    neck.scatter = Cents{0.875};
    neck.before = Cents{3.5};
    analysis.warnings = {{WarningCode::ambiguous_string, Seconds{12.5}, {}, 0, "was A2 string 6 or 5?"}};
    return {"2026-03-14T09:32:00Z", ReadingSource::listen, analysis};
}

inline RecordedMove sample_move() {
    return {"2026-03-14T09:35:00Z", 6, Millimetres{1.0}, Turns{2.0}, "stiff screw"};
}

}  // namespace midspan::test
