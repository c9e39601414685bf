// neck_string.hpp: a string on a neck, with a known error at the 12th fret, and whole takes of it.
//
// Room: tests/support. May include: ground, comparison (NoteKind, PluckOrder).
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "midspan/comparison/pairing.hpp"
#include "midspan/units.hpp"
#include "support/plucked_string.hpp"

namespace midspan::test {

/// One string as the bench meets it: an open note, its stiffness, and how wrong the 12th fret is.
struct NeckString {
    Hertz open{110.0};            ///< f_1 of the open string, settled
    double inharmonicity = 1e-4;  ///< B of the open string; half of it has 4 B
    Cents error{0.0};             ///< fretted minus 12th-fret harmonic; positive: the fretted note is sharp
    PluckedString manner{};       ///< how it is plucked and dies: all but fundamental, B and odd partials

    /// Mode 2 of the open string: 2 f_0 sqrt(1 + 4 B).
    [[nodiscard]] Hertz harmonic_frequency() const;
    [[nodiscard]] Hertz fretted_frequency() const { return raised(harmonic_frequency(), error); }

    [[nodiscard]] PluckedString open_note() const;
    /// Touched at the middle: 4 B, and odd partials 45 dB down unless `manner` says otherwise.
    [[nodiscard]] PluckedString harmonic() const;
    /// Pressed at the 12th fret: 4 B and no odd partials.
    [[nodiscard]] PluckedString fretted() const;
    [[nodiscard]] PluckedString note(NoteKind kind) const;
};

/// One pluck in a take, and the truth about it.
struct TakenPluck {
    NoteKind kind;
    Seconds start;
    Hertz frequency;  ///< settled, this pluck's own scatter included
};

struct Take {
    Hertz sample_rate;
    std::vector<double> samples;
    std::vector<TakenPluck> plucks;

    /// Mean over the fretted notes minus mean over the harmonics, in cents: the error as it was played,
    /// which differs from NeckString::error by what the scatter happened to be.
    [[nodiscard]] Cents played_error() const;
};

struct TakeOptions {
    Hertz sample_rate{48000.0};
    int pairs = 3;  ///< harmonics, and as many fretted notes
    bool open_first = false;
    PluckOrder order = PluckOrder::alternate;
    Seconds lead{0.5};   ///< quiet before the first pluck
    Seconds ring{3.0};   ///< how long a note rings before it is stopped
    Seconds gap{0.3};    ///< from there to the next pluck
    Cents scatter{0.0};  ///< standard deviation between fretted notes
    Decibels snr{60.0};  ///< white noise, against the second after the first pluck
    std::uint64_t seed = 1;
};

/// The kinds of pluck, in the order they are played.
[[nodiscard]] std::vector<NoteKind> kinds_in_order(const TakeOptions& options);

/// Plucks one string as asked.
[[nodiscard]] Take take_of(const NeckString& string, const TakeOptions& options = {});

}  // namespace midspan::test
