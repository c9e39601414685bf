// take_analysis.cpp: what was heard in every recording, to the analysis of the instrument.
//
// Room: measurement. Pure. May include: ground, sound/audio_block, instrument to advice.
#include "measurement/take_analysis.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <utility>

#include "measurement/string_analysis.hpp"

namespace midspan {
namespace {

constexpr Cents beyond_the_tuning{300.0};  // three semitones: a string may be that far off and still be heard
constexpr Decibels clearly_better{3.0};
constexpr Seconds short_note{1.0};
constexpr Cents beating_matters{0.15};  // below this the planes have been told apart well enough

void note_once(std::vector<WarningCode>& codes, WarningCode code) {
    if (std::find(codes.begin(), codes.end(), code) == codes.end()) codes.push_back(code);
}

/// From the recordings to one analysis.
class Take {
public:
    Take(const Instrument& instrument, AnalysisOptions options, std::span<const ListenedRecording> recordings,
         const std::function<bool(const MeasuredPluck&)>& left_out)
        : instrument_{instrument}, options_{options}, recordings_{recordings}, left_out_{left_out} {}

    [[nodiscard]] Analysis analysis(std::vector<Warning> warnings) && {
        Analysis result;
        result.tolerance = options_.tolerance;
        result.a4 = instrument_.a4;
        result.warnings = std::move(warnings);
        for (std::size_t i = 0; i < recordings_.size(); ++i) {
            gather(static_cast<int>(i), result);
        }
        const Pairing pairing = pair_notes(notes_, instrument_, options_.order);
        result.warnings.insert(result.warnings.end(), pairing.warnings.begin(), pairing.warnings.end());
        place(pairing, result);
        compare(pairing, result);
        return result;
    }

private:
    void gather(int index, Analysis& result) {
        const ListenedRecording& recording = recordings_[static_cast<std::size_t>(index)];
        const ChannelListener& chosen = best_channel(recording);
        result.recordings.push_back(
            {recording.path, recording.format.sample_rate, recording.format.channels, chosen.channel() + 1,
             options_.channel_chosen_by_user,
             Seconds{static_cast<double>(recording.frames) / recording.format.sample_rate.value()}});
        for (const ChannelListener& channel : recording.channels) {
            if (channel.readings() == 0 && chosen.readings() > 0) {
                result.warnings.push_back({WarningCode::dead_channel, std::nullopt, std::nullopt, index,
                                           fmt::format("channel {} carries no string; channel {} is used",
                                                       channel.channel() + 1, chosen.channel() + 1)});
            }
        }
        for (const MeasuredPluck& pluck : chosen.plucks()) {
            if (!left_out_(pluck)) {
                plucks_.push_back(result.plucks.size());
                notes_.push_back({index, pluck.start, recording.string, pluck.reading, !worthless(pluck)});
            }
            result.plucks.push_back({index, pluck.start, std::nullopt, std::nullopt, false, pluck.level,
                                     pluck.reading, flaws_of(pluck)});
        }
    }

    // Says of every pluck where it belongs, and names its flaws with the string beside them. Of one that was
    // left out nothing is said but that it had no pitch: it had no place to lose.
    void place(const Pairing& pairing, Analysis& result) const {
        std::size_t note = 0;
        for (std::size_t i = 0; i < result.plucks.size(); ++i) {
            AnalysedPluck& pluck = result.plucks[i];
            const bool heard = note < plucks_.size() && plucks_[note] == i;
            if (heard) {
                pluck.string = pairing.places[note].string;
                pluck.kind = pairing.places[note].kind;
                ++note;
            }
            if (!heard && pluck.reading) continue;
            for (const WarningCode code : pluck.warnings) {
                result.warnings.push_back(
                    {code, pluck.start, pluck.string, pluck.recording, flaw_in_words(code)});
            }
        }
        for (const StringNotes& notes : pairing.strings) {
            for (const auto* used : {&notes.open, &notes.harmonics, &notes.fretted}) {
                for (const std::size_t i : *used) {
                    result.plucks[plucks_[i]].used = true;
                }
            }
        }
    }

    void compare(const Pairing& pairing, Analysis& result) const {
        std::vector<StringReadings> readings;
        std::vector<std::optional<FrettingScatter>> scatters;
        for (const StringNotes& mine : pairing.strings) {
            StringReadings of_string;
            for (const std::size_t i : mine.open)
                of_string.open.push_back(*notes_[i].reading);
            for (const std::size_t i : mine.harmonics)
                of_string.harmonics.push_back(*notes_[i].reading);
            for (const std::size_t i : mine.fretted)
                of_string.fretted.push_back(*notes_[i].reading);
            for (const NotePlace& place : pairing.places) {
                if (place.string != mine.string || !place.kind) continue;
                of_string.open_heard += *place.kind == NoteKind::open ? 1 : 0;
                of_string.harmonics_heard += *place.kind == NoteKind::harmonic ? 1 : 0;
                of_string.fretted_heard += *place.kind == NoteKind::fretted ? 1 : 0;
            }
            for (const Warning& warning : pairing.warnings) {
                if (warning.string == mine.string) note_once(of_string.warned, warning.code);
            }
            of_string.order_contradicted = mine.order_contradicted;
            of_string.ambiguous = mine.ambiguous;
            scatters.push_back(
                of_string.harmonics.empty() || of_string.fretted.empty()
                    ? std::nullopt
                    : fretting_scatter(of_string.harmonics, of_string.fretted, options_.order));
            readings.push_back(std::move(of_string));
        }
        for (std::size_t i = 0; i < readings.size(); ++i) {
            result.strings.push_back(analyse_string(instrument_.strings[i], readings[i], options_.order,
                                                    options_.tolerance, scatter_of_others(scatters, i),
                                                    result.warnings));
            advise_turns(result.strings.back(), response_of(instrument_.strings[i], options_.screws));
        }
    }

    // The same hand frets all strings, so what the others scatter says something about this one.
    static FrettingScatter scatter_of_others(std::span<const std::optional<FrettingScatter>> scatters,
                                             std::size_t except) {
        double squares = 0.0;
        double degrees = 0.0;
        for (std::size_t i = 0; i < scatters.size(); ++i) {
            if (i == except || !scatters[i]) continue;
            const double deviation = scatters[i]->standard_deviation.value();
            squares += scatters[i]->degrees_of_freedom * deviation * deviation;
            degrees += scatters[i]->degrees_of_freedom;
        }
        return {Cents{degrees > 0.0 ? std::sqrt(squares / degrees) : 0.0}, degrees};
    }

    const Instrument& instrument_;
    AnalysisOptions options_;
    std::span<const ListenedRecording> recordings_;
    const std::function<bool(const MeasuredPluck&)>& left_out_;
    std::vector<HeardNote> notes_;
    std::vector<std::size_t> plucks_;  // of Analysis::plucks, one a note
};

}  // namespace

PitchRange pitch_range(const Instrument& instrument, std::optional<int> only) {
    PitchRange range{Hertz{1e9}, Hertz{0.0}};
    for (const InstrumentString& string : instrument.strings) {
        if (only && string.number != *only) continue;
        range.lowest = std::min(range.lowest, string.open_frequency);
        range.highest = std::max(range.highest, 2.0 * string.open_frequency);
    }
    return {raised(range.lowest, -beyond_the_tuning), raised(range.highest, beyond_the_tuning)};
}

ListenedRecording listen_to(std::string path, AudioFormat format, std::optional<int> string,
                            std::optional<int> channel, Hertz lowest) {
    ListenedRecording recording{std::move(path), format, string, 0, {}};
    if (channel) {
        recording.channels.emplace_back(*channel - 1, format.sample_rate, lowest);
        return recording;
    }
    for (int i = 0; i < format.channels; ++i) {
        recording.channels.emplace_back(i, format.sample_rate, lowest);
    }
    return recording;
}

const ChannelListener& best_channel(const ListenedRecording& recording) {
    const ChannelListener* best = &recording.channels.front();
    for (const ChannelListener& candidate : recording.channels) {
        const int more = candidate.readings() - best->readings();
        if (more > 0 || (more == 0 && candidate.clarity() - best->clarity() > clearly_better)) {
            best = &candidate;
        }
    }
    return *best;
}

bool worthless(const MeasuredPluck& pluck) { return pluck.flaws.clipped || pluck.flaws.not_finite; }

std::vector<WarningCode> flaws_of(const MeasuredPluck& pluck) {
    std::vector<WarningCode> codes;
    if (pluck.flaws.clipped) codes.push_back(WarningCode::clipped);
    if (pluck.flaws.not_finite) codes.push_back(WarningCode::not_finite);
    if (!pluck.reading) {
        if (!pluck.flaws.not_finite) codes.push_back(WarningCode::dead_note);
        return codes;
    }
    if (pluck.level - pluck.noise_level < quiet) codes.push_back(WarningCode::too_quiet);
    if (pluck.flaws.cut_off && pluck.usable_duration < short_note) codes.push_back(WarningCode::cut_off);
    if (pluck.flaws.disturbed) codes.push_back(WarningCode::disturbed);
    if (pluck.reading->not_settled) codes.push_back(WarningCode::not_settled);
    if (pluck.reading->beating && pluck.reading->uncertainty > beating_matters) {
        codes.push_back(WarningCode::beating);
    }
    return codes;
}

std::string flaw_in_words(WarningCode code) {
    switch (code) {
        case WarningCode::clipped:
            return "the note overloads the input and is left out; turn the gain down or pluck more softly";
        case WarningCode::not_finite:
            return "the recording holds samples that are no numbers; the note is left out, export it again";
        case WarningCode::dead_note:
            return "a sound without a pitch; if it was a pluck, pluck it again and let it ring";
        case WarningCode::too_quiet:
            return "the note hardly stands out of the noise; come closer or turn the gain up";
        case WarningCode::cut_off:
            return "the next sound came within a second; let each note ring for three";
        case WarningCode::disturbed:
            return "something else sounded into the note; only the clean part was used";
        case WarningCode::not_settled:
            return "the note is too short to tell where its pitch settles; pluck softly and let it ring";
        case WarningCode::beating:
            return "the note beats slowly: its two planes differ; the stronger one was taken";
        default:
            assert(false);
            return {};
    }
}

Analysis analyse_take(const Instrument& instrument, AnalysisOptions options,
                      std::span<const ListenedRecording> recordings, std::vector<Warning> warnings,
                      const std::function<bool(const MeasuredPluck&)>& left_out) {
    return Take{instrument, options, recordings, left_out}.analysis(std::move(warnings));
}

}  // namespace midspan
