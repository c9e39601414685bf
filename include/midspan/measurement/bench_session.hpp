// bench_session.hpp: a measurement that talks back: pluck by pluck, round by round, at the bench.
//
// Room: measurement. Pure. May include: ground, sound/audio_block, instrument to advice.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "midspan/measurement/analysis.hpp"
#include "midspan/measurement/bench_event.hpp"
#include "midspan/sound/audio_block.hpp"

namespace midspan {

struct BenchOptions {
    Cents tolerance = default_tolerance;
    std::optional<int> channel;      ///< 1 is the first; nothing: chosen by signal
    std::optional<int> string;       ///< the only one that will be plucked, if the user said so
    std::vector<KnownScrew> screws;  ///< learned before, at most one a string
};

/// One session at the bench, fed with sound as it comes. Strings are plucked in any order; each is waited for
/// as harmonic, fretted, harmonic, fretted.
///
/// Pluck finder, pitch, pairing, comparison and advice are those of Measurement. Of a session in which
/// nothing that has a pitch was refused, undone, restarted or measured anew, analysis() is what a Measurement
/// of the same sound says, to the last digit. Where something was, that pluck is listed as not used; a
/// Measurement, which nobody answers, would have to count it in. A session fed with the same sound again, and
/// the same commands at the same frames, says the same again.
///
/// Refused is, within a second of the pluck: what has no pitch, a note of no string or of two, an octave note
/// of a string more than 60 cents off, one that overloads the input or hardly stands out of the noise, one
/// talked over before its pitch was known, and one that lost samples. Refused is a pair that does not sound
/// like harmonic, then fretted, and a harmonic whose fretted note did not come before another string. The
/// same is then waited for again. While a screw is turned, knocks are no mis-plucks and nothing is said of
/// them.
///
/// **Rounds.** Once a move has been stated for a string (two pairs at least), its next note begins a new
/// round if it is an open note (the string is being tuned), if another string has been plucked in between, or
/// if ten seconds have passed since its last note: nobody turns a screw in less, and nobody waits so long for
/// the third pair. The earlier round is kept as a result and its notes take no further part. An open note
/// that differs by more than 3 cents from the one before replaces it.
///
/// Time is counted in frames; how the sound is cut into blocks changes nothing.
class BenchSession {
public:
    BenchSession(Instrument instrument, BenchOptions options);
    ~BenchSession();
    BenchSession(BenchSession&&) noexcept;
    BenchSession& operator=(BenchSession&&) noexcept;

    /// Once, before anything is fed. `source`: the device or file, for Analysis::recordings.
    std::vector<BenchEvent> begin(std::string source, AudioFormat format);

    /// What the sound brought about, in order.
    std::vector<BenchEvent> feed(const AudioBlock& block);

    /// Something never arrived between the block before and the next: it voids the note that rings. What
    /// nobody has heard does not count as time.
    std::vector<BenchEvent> lose();

    /// The last pluck that counted counts no longer; one that still rings never will.
    std::vector<BenchEvent> undo_last_pluck();

    /// The notes of the string in question count no longer, those of its earlier rounds excepted.
    std::vector<BenchEvent> restart_string();

    /// No more sound: a note that still rings is measured as far as it goes.
    std::vector<BenchEvent> finish();

    /// Something the source knew and the samples do not show.
    void add_warning(Warning warning);

    [[nodiscard]] const BenchState& state() const;
    [[nodiscard]] const Instrument& instrument() const;

    /// The result so far: of every string its last round.
    [[nodiscard]] Analysis analysis() const;

    /// What was known when `round` was the last one: of every string that round, or its last when it had
    /// fewer. 1 is the first.
    [[nodiscard]] Analysis analysis_of_round(int round) const;

    /// What is known of the screws by now, string 1 first.
    [[nodiscard]] std::vector<KnownScrew> screws() const;

private:
    class Work;
    std::unique_ptr<Work> work_;
};

}  // namespace midspan
