// analysis.hpp: everything a measurement has to say, as values.
//
// Room: measurement. Pure. May include: ground, instrument, notes, pitch, comparison, advice.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "midspan/advice/bridge_response.hpp"
#include "midspan/advice/saddle_move.hpp"
#include "midspan/advice/verdict.hpp"
#include "midspan/comparison/octave_comparison.hpp"
#include "midspan/comparison/pairing.hpp"
#include "midspan/instrument/instrument.hpp"
#include "midspan/pitch/pitch_reading.hpp"
#include "midspan/warning.hpp"

namespace midspan {

struct AnalysedRecording {
    std::string path;
    Hertz sample_rate;
    int channels;
    int channel_used;  ///< 1 is the first
    bool channel_chosen_by_user;
    Seconds duration;
};

/// One pluck and what became of it; none is left out.
struct AnalysedPluck {
    int recording;
    Seconds start;
    std::optional<int> string;
    std::optional<NoteKind> kind;
    bool used;  ///< took part in a comparison or in the tuning check
    Decibels level;
    std::optional<PitchReading> reading;
    std::vector<WarningCode> warnings;
};

/// How far an open string is from its note, from open plucks or else from its harmonics.
struct TuningCheck {
    Hertz frequency;  ///< of the open string
    Cents off;        ///< positive: sharp
    bool from_open;   ///< false: worked out from the 12th-fret harmonic
};

/// What the screw of one string's saddle was learned to do before.
struct KnownScrew {
    int string;
    KnownResponse response;
};

struct AnalysedString {
    InstrumentString string;
    std::optional<TuningCheck> tuning;
    std::optional<OctaveComparison> comparison;
    std::optional<SaddleMove> move;       ///< present whenever there is a comparison
    std::optional<Turns> turns;           ///< when the thread pitch is known, or what the screw does
    std::optional<double> inharmonicity;  ///< B of the open string
    Verdict verdict = Verdict::measure_again;
    std::vector<WarningCode> warnings;
    std::optional<Turns> turns_uncertainty{};  ///< standard uncertainty of `turns`
    bool turns_learned = false;                ///< from what the screw did before, not from its thread
};

struct Analysis {
    Cents tolerance{default_tolerance};
    Hertz a4{440.0};
    std::vector<AnalysedRecording> recordings;
    std::vector<AnalysedString> strings;  ///< string 1 first
    std::vector<AnalysedPluck> plucks;    ///< as they were heard
    std::vector<Warning> warnings;
};

}  // namespace midspan
