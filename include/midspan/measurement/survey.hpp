// survey.hpp: sound in, the whole neck out; what a file and a microphone both feed.
//
// Room: measurement. Pure. May include: ground, sound/audio_block, instrument to advice.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "midspan/advice/neck_expectation.hpp"
#include "midspan/comparison/neck_survey.hpp"
#include "midspan/instrument/instrument.hpp"
#include "midspan/measurement/analysis.hpp"
#include "midspan/sound/audio_block.hpp"

namespace midspan {

/// The note that a string's errors are measured from.
enum class SurveyReference {
    automatic,  ///< the open string, with its harmonics where both were plucked, or these alone
    open,
    harmonic,  ///< touched over the 12th fret
};

struct SurveyOptions {
    std::optional<int> channel;  ///< 1 is the first; nothing: chosen by signal
    SurveyReference reference = SurveyReference::automatic;
    int capo = 0;  ///< the fret a capo sits on; what rings open then is fretted there
    /// Strings and heights, one entry for each string of the instrument, or none: the usual ones are taken.
    StatedNeck stated{};
    NeckSurveyOptions neck{};
};

/// One pluck and what became of it; none is left out.
struct SurveyedPluck {
    int recording;
    Seconds start;
    std::optional<int> string;
    std::optional<int> fret;  ///< counted from the nut, capo or not; 0 is the open string
    bool harmonic;            ///< touched over the 12th fret
    bool used;                ///< as a reference or in the fit
    Decibels level;
    std::optional<PitchReading> reading;
    std::optional<Cents> error;  ///< of a fretted note, from its string's reference
    std::vector<WarningCode> warnings;
};

/// The note of a string that its errors are measured from.
struct ReferenceNote {
    int string;
    bool from_open;  ///< perhaps with its harmonics; false: from these alone
    int plucks;
    Hertz frequency;  ///< of the open string; twice of it is meant by a harmonic
    Cents off;        ///< of its note in the tuning; positive: sharp
    Cents uncertainty;
    double inharmonicity;  ///< B of the open string
};

struct NeckAnalysis {
    Instrument instrument;  ///< as it was given
    SurveyOptions options;
    std::vector<AnalysedRecording> recordings;
    std::vector<ReferenceNote> references;
    std::vector<SurveyedPluck> plucks;  ///< as they were heard
    NeckSurvey neck;                    ///< frets counted from the nut, capo or not
    std::vector<Warning> warnings;
};

/// One survey of one neck, from any number of recordings, fed block by block.
///
/// The error of fret n is what its settled lowest partial lies above the reference, less 100 cents a fret and
/// less what stiffness alone adds to a shorter string:
///
///     e = 1200 log2(f_n / f_open) - 100 n - 600 log2((1 + B 4^(n/12)) / (1 + B))
///
/// and accordingly from the harmonic, whose partials are those of a string half as long. B is that of the
/// reference. With a capo the string begins there, and so do the frets of the fit.
class Survey {
public:
    Survey(Instrument instrument, SurveyOptions options);
    ~Survey();
    Survey(Survey&&) noexcept;
    Survey& operator=(Survey&&) noexcept;

    /// A recording begins. `string`: the string it holds, if the user said so.
    void begin_recording(std::string path, AudioFormat format, std::optional<int> string);

    void feed(const AudioBlock& block);

    /// It has ended; a note that still rings is measured as far as it goes.
    void end_recording();

    /// Something the source knew and the samples do not show.
    void add_warning(Warning warning);

    /// How many plucks were heard so far, on the channel that has most to say.
    [[nodiscard]] std::size_t plucks() const;

    /// All that is known so far.
    [[nodiscard]] NeckAnalysis analysis() const;

private:
    class Work;
    std::unique_ptr<Work> work_;
};

}  // namespace midspan
