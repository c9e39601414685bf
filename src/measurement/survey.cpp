// survey.cpp: plucks to places on the neck, places to errors, errors to the survey.
//
// Room: measurement. Pure. May include: ground, sound/audio_block, instrument to advice.
#include "midspan/measurement/survey.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "measurement/take_analysis.hpp"
#include "midspan/comparison/note_recognition.hpp"

namespace midspan {
namespace {

/// How far an open string strays between two plucks of it: tuners, the pluck itself, and warmth most of all.
/// A hand that warms the string by a tenth of a kelvin lowers it by 0.14 to 0.41 cent.
constexpr double strays = 0.2;  // cents
/// A harmonic this far from its open string was another note.
constexpr double same_reference = 1.0;  // cents
constexpr Cents tuned{60.0};

double square(double v) { return v * v; }

/// Cents that stiffness raises the lowest partial of a string by, shortened to fret n.
double stiff(double inharmonicity, int fret) {
    return 600.0 * std::log2(1.0 + inharmonicity * std::exp2(fret / 6.0));
}

/// With a capo on, the string is as long and as high as from there.
Instrument from_capo(Instrument instrument, int capo) {
    for (InstrumentString& string : instrument.strings) {
        string.open_frequency = raised(string.open_frequency, Cents{100.0 * capo});
        string.scale_length = std::exp2(-capo / 12.0) * string.scale_length;
    }
    return instrument;
}

NeckSurveyOptions from_capo(NeckSurveyOptions options, int capo) {
    options.frets -= capo;
    const auto beyond = [capo](auto& entries) {
        std::erase_if(entries, [capo](const auto& entry) { return entry.fret <= capo; });
        for (auto& entry : entries)
            entry.fret -= capo;
    };
    beyond(options.weights);
    beyond(options.targets);
    beyond(options.known);
    return options;
}

/// Frets counted from the nut again.
void from_nut(NeckSurvey& survey, int capo) {
    const auto shift = [capo](std::vector<NeckNote>& notes) {
        for (NeckNote& note : notes)
            note.fret += capo;
    };
    const auto shift_cause = [capo](NamedCause& cause) {
        if (cause.fret) *cause.fret += capo;
    };
    for (SurveyedNote& note : survey.notes)
        note.fret += capo;
    for (SurveyedFret& fret : survey.frets)
        fret.fret += capo;
    for (NeckFinding& finding : survey.findings) {
        shift_cause(finding.cause);
        for (NamedCause& rival : finding.rivals)
            shift_cause(rival);
        shift(finding.deciding);
    }
    for (Inseparable& pair : survey.inseparable)
        shift(pair.deciding);
    for (DetectableSize& size : survey.detectable) {
        if (size.fret) *size.fret += capo;
    }
    shift(survey.bent);
}

}  // namespace

class Survey::Work {
public:
    Work(Instrument instrument, SurveyOptions options)
        : instrument_{std::move(instrument)},
          sounding_{from_capo(instrument_, options.capo)},
          options_{std::move(options)} {
        assert(options_.capo >= 0 && options_.capo < options_.neck.frets);
        assert(options_.stated.strings.empty() ||
               options_.stated.strings.size() == instrument_.strings.size());
    }

    void begin_recording(std::string path, AudioFormat format, std::optional<int> string) {
        PitchRange range = pitch_range(sounding_, string);
        // Up to the last fret, not only to the octave.
        const int beyond_octave = std::max(0, options_.neck.frets - options_.capo - 12);
        range.highest = std::min(raised(range.highest, Cents{100.0 * beyond_octave}), Hertz{2000.0});
        estimator_.emplace(range.lowest, range.highest);
        recordings_.push_back(listen_to(std::move(path), format, string, options_.channel, range.lowest));
    }

    void feed(const AudioBlock& block) {
        ListenedRecording& recording = recordings_.back();
        recording.frames += block.frames();
        for (ChannelListener& channel : recording.channels)
            channel.feed(block, *estimator_);
    }

    void end_recording() {
        for (ChannelListener& channel : recordings_.back().channels)
            channel.finish(*estimator_);
    }

    void add_warning(Warning warning) { source_warnings_.push_back(std::move(warning)); }

    [[nodiscard]] std::size_t plucks() const {
        std::size_t count = 0;
        for (const ListenedRecording& recording : recordings_)
            count += best_channel(recording).plucks().size();
        return count;
    }

    [[nodiscard]] NeckAnalysis analysis() const {
        NeckAnalysis result{instrument_, options_, {}, {}, {}, {}, source_warnings_};
        std::vector<HeardNote> notes;
        for (std::size_t i = 0; i < recordings_.size(); ++i)
            gather(static_cast<int>(i), result, notes);
        const Recognition recognition =
            recognise_notes(notes, sounding_, options_.neck.frets - options_.capo);
        result.warnings.insert(result.warnings.end(), recognition.warnings.begin(),
                               recognition.warnings.end());
        place(recognition, notes, result);

        std::vector<SurveyedString> strings;
        std::vector<NeckObservation> observations;
        for (const InstrumentString& string : sounding_.strings)
            measure(string, notes, recognition, result, strings, observations);
        result.neck = survey_neck(
            strings, observations,
            expecting(from_capo(options_.neck, options_.capo), options_.stated, instrument_, options_.capo));
        from_nut(result.neck, options_.capo);
        return result;
    }

private:
    void gather(int index, NeckAnalysis& result, std::vector<HeardNote>& notes) const {
        const ListenedRecording& recording = recordings_[static_cast<std::size_t>(index)];
        const ChannelListener& chosen = best_channel(recording);
        result.recordings.push_back(
            {recording.path, recording.format.sample_rate, recording.format.channels, chosen.channel() + 1,
             options_.channel.has_value(),
             Seconds{static_cast<double>(recording.frames) / recording.format.sample_rate.value()}});
        for (const MeasuredPluck& pluck : chosen.plucks()) {
            notes.push_back({index, pluck.start, recording.string, pluck.reading, !worthless(pluck)});
            result.plucks.push_back(
                {index, pluck.start, {}, {}, false, false, pluck.level, pluck.reading, {}, flaws_of(pluck)});
        }
    }

    void place(const Recognition& recognition, std::span<const HeardNote> notes, NeckAnalysis& result) const {
        for (std::size_t i = 0; i < notes.size(); ++i) {
            SurveyedPluck& pluck = result.plucks[i];
            const RecognisedNote& note = recognition.notes[i];
            pluck.string = note.string;
            if (note.fret) pluck.fret = *note.fret + options_.capo;
            pluck.harmonic = note.harmonic;
            for (const WarningCode flaw : pluck.warnings) {
                result.warnings.push_back(
                    {flaw, pluck.start, pluck.string, pluck.recording, flaw_in_words(flaw)});
            }
        }
    }

    /// The errors of one string, when there is something to measure them from.
    void measure(const InstrumentString& string, std::span<const HeardNote> notes,
                 const Recognition& recognition, NeckAnalysis& result, std::vector<SurveyedString>& strings,
                 std::vector<NeckObservation>& observations) const {
        std::vector<std::size_t> open;
        std::vector<std::size_t> harmonics;
        std::vector<std::size_t> fretted;
        for (std::size_t i = 0; i < notes.size(); ++i) {
            const RecognisedNote& note = recognition.notes[i];
            if (note.string != string.number || !notes[i].usable) continue;
            (note.harmonic ? harmonics : *note.fret == 0 ? open : fretted).push_back(i);
        }
        if (open.empty() && harmonics.empty() && fretted.empty()) return;
        const bool from_open = options_.reference == SurveyReference::open ||
                               (options_.reference == SurveyReference::automatic && !open.empty());
        std::vector<ReferencePluck> from;
        for (const std::size_t i : from_open ? open : harmonics)
            from.push_back(reference_pluck(i, from_open, notes));
        // Both are the same string; an open one has its harmonics beside it, unless it alone was asked for.
        if (from_open && options_.reference == SurveyReference::automatic) {
            const double middle = mean_cents(from);
            for (const std::size_t i : harmonics) {
                const ReferencePluck pluck = reference_pluck(i, false, notes);
                if (std::abs(pluck.cents - middle) < same_reference) from.push_back(pluck);
            }
        }
        if (from.empty()) {
            result.warnings.push_back(
                {WarningCode::only_fretted, std::nullopt, string.number, std::nullopt,
                 fmt::format("nothing to measure its frets from; pluck {} as well{}",
                             from_open ? "it open" : "it open, or its harmonic over the 12th fret,",
                             options_.capo == 0 ? ", or say --capo if there was one" : "")});
            return;
        }
        const ReferenceNote reference = reference_of(string, from, from_open, result);
        result.references.push_back(reference);
        if (magnitude(reference.off) > tuned) {
            result.warnings.push_back({WarningCode::out_of_tune, std::nullopt, string.number, std::nullopt,
                                       "more than 60 cents off its note; tune it and pluck again"});
        }
        if (fretted.empty()) {
            result.warnings.push_back({WarningCode::only_open, std::nullopt, string.number, std::nullopt,
                                       "no fretted note of it was heard"});
            return;
        }
        strings.push_back({string.number, string.open_frequency, string.scale_length, reference.uncertainty,
                           expected_stretch(options_.stated, instrument_, options_.capo, string.number)});
        for (const std::size_t i : fretted) {
            const int fret = *recognition.notes[i].fret;
            const PitchReading& reading = *notes[i].reading;
            const double above = interval(reference.frequency, reading.frequency).value();
            const double b = reference.inharmonicity;
            const Cents error{above - 100.0 * fret - (stiff(b, fret) - stiff(b, 0))};
            observations.push_back({string.number, fret, error, reading.uncertainty});
            result.plucks[i].error = error;
            result.plucks[i].used = true;
        }
    }

    /// One pluck of a reference, as a pitch of the open string.
    struct ReferencePluck {
        std::size_t note;
        double cents;  // above 1 Hz
        double uncertainty;
        double inharmonicity;
    };

    static ReferencePluck reference_pluck(std::size_t note, bool open, std::span<const HeardNote> notes) {
        const PitchReading& reading = *notes[note].reading;
        const double b = std::max(0.0, reading.inharmonicity / (open ? 1.0 : 4.0));
        // A harmonic is mode 2 of the open string: 2 f_0 sqrt(1 + 4 B).
        const double above = open ? 0.0 : 1200.0 + stiff(b, 12) - stiff(b, 0);
        return {note, interval(Hertz{1.0}, reading.frequency).value() - above, reading.uncertainty.value(),
                b};
    }

    static double mean_cents(const std::vector<ReferencePluck>& plucks) {
        double sum = 0.0;
        for (const ReferencePluck& pluck : plucks)
            sum += pluck.cents;
        return sum / static_cast<double>(plucks.size());
    }

    static ReferenceNote reference_of(const InstrumentString& string, const std::vector<ReferencePluck>& from,
                                      bool from_open, NeckAnalysis& result) {
        const auto n = static_cast<double>(from.size());
        const double mean = mean_cents(from);
        double inharmonicity = 0.0;
        double fit = 0.0;
        double squares = square(strays);  // worth one pluck
        for (const ReferencePluck& pluck : from) {
            squares += square(pluck.cents - mean);
            inharmonicity += pluck.inharmonicity / n;
            fit += square(pluck.uncertainty) / n;
            result.plucks[pluck.note].used = true;
        }
        const Hertz frequency = raised(Hertz{1.0}, Cents{mean});
        return {string.number,
                from_open,
                static_cast<int>(from.size()),
                frequency,
                interval(string.open_frequency, frequency),
                Cents{std::sqrt((squares / n + fit) / n)},
                inharmonicity};
    }

    Instrument instrument_;
    Instrument sounding_;
    SurveyOptions options_;
    std::optional<PitchEstimator> estimator_;
    std::vector<ListenedRecording> recordings_;
    std::vector<Warning> source_warnings_;
};

Survey::Survey(Instrument instrument, SurveyOptions options)
    : work_{std::make_unique<Work>(std::move(instrument), std::move(options))} {}
Survey::~Survey() = default;
Survey::Survey(Survey&&) noexcept = default;
Survey& Survey::operator=(Survey&&) noexcept = default;

void Survey::begin_recording(std::string path, AudioFormat format, std::optional<int> string) {
    work_->begin_recording(std::move(path), format, string);
}
void Survey::feed(const AudioBlock& block) { work_->feed(block); }
void Survey::end_recording() { work_->end_recording(); }
void Survey::add_warning(Warning warning) { work_->add_warning(std::move(warning)); }
std::size_t Survey::plucks() const { return work_->plucks(); }
NeckAnalysis Survey::analysis() const { return work_->analysis(); }

}  // namespace midspan
