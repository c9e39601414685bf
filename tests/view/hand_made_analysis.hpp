// hand_made_analysis.hpp: an analysis as a bench visit could have left it, written down by hand.
//
// Room: tests/view.
#pragma once

#include "midspan/measurement/analysis.hpp"

namespace midspan::test {

/// A string with a comparison; the error's standard uncertainty and the move's are given.
inline AnalysedString compared_string(int number, const char* note, Cents error, Cents uncertainty,
                                      Millimetres move, Verdict verdict) {
    const NoteName name = NoteName::parse(note).value();
    const Hertz open = name.frequency(Hertz{440.0});
    const Hertz harmonic = 2.0 * open;
    AnalysedString s{
        InstrumentString{number, name, open, Millimetres{628.65}, {}}, {}, {}, {}, {}, {}, verdict, {}};
    s.tuning = TuningCheck{open, Cents{0.0}, false};
    s.comparison = OctaveComparison{{harmonic, Hertz{0.002}},
                                    {raised(harmonic, error), Hertz{0.005}},
                                    Cents{0.02},
                                    Cents{0.05},
                                    3,
                                    3,
                                    {error, uncertainty},
                                    Cents{0.05},
                                    false};
    s.move = SaddleMove{move, Millimetres{0.02}};
    return s;
}

/// A string nobody plucked.
inline AnalysedString unheard_string(int number, const char* note) {
    const NoteName name = NoteName::parse(note).value();
    return {InstrumentString{number, name, name.frequency(Hertz{440.0}), Millimetres{628.65}, {}},
            {},
            {},
            {},
            {},
            {},
            Verdict::measure_again,
            {WarningCode::no_plucks}};
}

/// Three strings: 3 has to move, 2 is good enough, 1 was not heard.
inline Analysis hand_made_analysis() {
    Analysis a;
    a.recordings.push_back({"take.wav", Hertz{48000.0}, 1, 1, false, Seconds{71.2}});
    a.strings.push_back(unheard_string(1, "E4"));
    a.strings.push_back(
        compared_string(2, "B3", Cents{-0.35}, Cents{0.2}, Millimetres{-0.13}, Verdict::in_tolerance));
    a.strings.push_back(compared_string(3, "G3", Cents{2.2}, Cents{0.06}, Millimetres{0.8}, Verdict::move));
    a.plucks.push_back(
        {0,
         Seconds{1.25},
         3,
         NoteKind::harmonic,
         true,
         Decibels{-12.0},
         PitchReading{Hertz{391.995}, Cents{0.02}, 1.2e-4, 1e-6, Cents{3.0}, Seconds{0.8}, 7, Seconds{2.5},
                      Decibels{48.0}, Decibels{-30.0}, Decibels{-60.0}, false, false, false},
         {}});
    a.plucks.push_back({0, Seconds{5.5}, {}, {}, false, Decibels{-50.0}, {}, {WarningCode::dead_note}});
    a.warnings.push_back({WarningCode::no_plucks, {}, 1, {}, "nothing was heard of this string"});
    a.warnings.push_back({WarningCode::dead_note, Seconds{5.5}, {}, 0, "no string rang; pluck it again"});
    return a;
}

}  // namespace midspan::test
