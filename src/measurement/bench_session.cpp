// bench_session.cpp: what follows from every pluck, while it rings and when it has ended.
//
// Room: measurement. Pure. May include: ground, sound/audio_block, instrument to advice.
//
// Sound is taken in steps of 10 ms, whatever the blocks; only between two steps is anything decided.
#include "midspan/measurement/bench_session.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <utility>

#include "measurement/channel_listener.hpp"
#include "measurement/pluck_log.hpp"
#include "measurement/string_analysis.hpp"
#include "measurement/take_analysis.hpp"
#include "midspan/pitch/surest_reading.hpp"

namespace midspan {
namespace {

constexpr Seconds step_duration{0.01};

// When a ringing note is looked at, since its attack.
constexpr std::array looks{0.22, 0.28, 0.4, 0.6, 0.8, 1.2, 1.8, 2.5};
constexpr double place_known_from = 0.4;  // a wrong note is not called so by its attack alone
constexpr double pitch_missing_from = 0.8;
constexpr Seconds level_known_from{0.25};

constexpr Cents worth_showing{1.5};
constexpr Cents good_for_a_verdict{0.15};
constexpr Cents known_before_it_was_disturbed{0.5};
constexpr Cents out_of_tune_from{60.0};
constexpr Cents retuned{3.0};
constexpr Seconds turning_a_screw{10.0};
constexpr Seconds around_an_attack{0.02};
// What sounds from the first sample on may be hum; only its end shows whether it was plucked.
constexpr Seconds session_begins{0.06};
constexpr int pairs_for_a_verdict = 2;

/// The pluck that rings.
struct Watched {
    Seconds start{0.0};
    std::size_t next_look = 0;
    bool level_said = false;
    SurestReading pitch;
    bool shown = false;
    bool shown_sure = false;
    bool disturbed = false;
    std::optional<Refusal> refused;
    std::optional<int> refused_string;
};

/// Where a note belongs, or why nowhere.
struct Place {
    std::optional<int> string;
    bool open = false;
    Cents off{0.0};  ///< from the string's open note or its octave
    Refusal refusal = Refusal::wrong_note;
    std::string message;
};

std::string off_in_words(Cents off) {
    return fmt::format("{:.0f} cents {}", std::abs(off.value()), off.value() > 0.0 ? "sharp" : "flat");
}

}  // namespace

class BenchSession::Work {
public:
    Work(Instrument instrument, BenchOptions options)
        : instrument_{std::move(instrument)}, options_{std::move(options)} {
        for (const InstrumentString& string : instrument_.strings) {
            BenchString fresh;
            fresh.number = string.number;
            state_.strings.push_back(std::move(fresh));
        }
        state_.awaited = {options_.string, NoteKind::harmonic, false};
    }

    void begin(std::string source, AudioFormat format) {
        const PitchRange range = pitch_range(instrument_, options_.string);
        estimator_.emplace(range.lowest, range.highest);
        recording_ = listen_to(std::move(source), format, options_.string, options_.channel, range.lowest);
        seen_.assign(recording_->channels.size(), 0);
        frames_in_step_ =
            static_cast<std::uint64_t>(std::llround(format.sample_rate.value() * step_duration.value()));
        say(state_.awaited);
    }

    void feed(const AudioBlock& block) {
        assert(recording_ && !state_.ended);
        std::size_t done = 0;
        const std::size_t frames = block.frames();
        const auto channels = static_cast<std::size_t>(block.channels);
        while (done < frames) {
            const std::uint64_t wanted = frames_in_step_ - recording_->frames % frames_in_step_;
            const std::size_t count = std::min<std::size_t>(wanted, frames - done);
            listen({block.samples.subspan(done * channels, count * channels), block.channels});
            done += count;
            if (recording_->frames % frames_in_step_ == 0) take_step();
        }
    }

    void lose() {
        losses_.push_back(now());
        if (watched_ && !watched_->refused) {
            refuse_ringing(Refusal::samples_lost, std::nullopt,
                           "a part of the note never arrived; pluck it again");
        }
    }

    void undo_last_pluck() {
        if (watched_ && !watched_->refused) {
            refuse_ringing(Refusal::undone, std::nullopt, "taken back; pluck it again");
            return;
        }
        LoggedPluck* last = log_.last(std::nullopt);
        if (last == nullptr) return;
        const int string = *last->string;
        last->out = Refusal::undone;
        BenchString& bench = bench_of(string);
        const bool round_is_empty = log_.last(string) == nullptr;
        if (round_is_empty && !bench.earlier_rounds.empty()) reopen_round(bench);
        state_.current = string;
        say_refusal(string, Refusal::undone, "taken back; pluck it again");
        recount();
        await_again(string);
    }

    void restart_string() {
        if (!state_.current) return;
        const int string = *state_.current;
        if (watched_ && !watched_->refused) {
            watched_->refused = Refusal::restarted;
            state_.ringing.reset();
        }
        for (LoggedPluck& pluck : log_.plucks()) {
            if (!pluck.out && pluck.string == string) pluck.out = Refusal::restarted;
        }
        bench_of(string).tuning.reset();
        say_refusal(string, Refusal::restarted, "begun anew; pluck the harmonic");
        recount();
        await_again(string);
    }

    void finish() {
        if (state_.ended) return;
        for (ChannelListener& channel : recording_->channels) {
            channel.finish(*estimator_);
        }
        take_finished();
        for (const BenchString& string : state_.strings) {
            if (LoggedPluck* alone = log_.pending(string.number)) alone->out = Refusal::left_alone;
        }
        state_.ringing.reset();
        state_.ended = true;
        say(SessionEnded{});
    }

    void add_warning(Warning warning) { source_warnings_.push_back(std::move(warning)); }

    [[nodiscard]] const BenchState& state() const { return state_; }
    [[nodiscard]] const Instrument& instrument() const { return instrument_; }

    [[nodiscard]] Analysis analysis() const {
        int last = 1;
        for (const BenchString& string : state_.strings)
            last = std::max(last, string.round);
        return analysis_of_round(last);
    }

    [[nodiscard]] Analysis analysis_of_round(int round) const {
        const auto left_out = [this, round](const MeasuredPluck& pluck) {
            const LoggedPluck* logged = log_.at(pluck.start);
            if (logged == nullptr || !logged->string) return logged != nullptr && logged->out.has_value();
            if (round < bench_of(*logged->string).round) {
                const bool counted = !logged->out || logged->out == Refusal::earlier_round;
                return !counted || logged->round != round;
            }
            return logged->out || logged == log_.pending(*logged->string);
        };
        const std::span<const ListenedRecording> recordings =
            recording_ ? std::span{&*recording_, 1} : std::span<const ListenedRecording>{};
        Analysis result = analyse_take(
            instrument_,
            {PluckOrder::alternate, options_.tolerance, options_.channel.has_value(), options_.screws},
            recordings, source_warnings_, left_out);
        for (AnalysedPluck& pluck : result.plucks) {
            const LoggedPluck* logged = log_.at(pluck.start);
            if (logged == nullptr || pluck.string || !logged->string) continue;
            pluck.string = logged->string;
            pluck.kind = logged->kind;
        }
        for (AnalysedString& string : result.strings) {
            advise_turns(string, learned(string.string.number, string.comparison, round).response);
        }
        return result;
    }

    [[nodiscard]] std::vector<KnownScrew> screws() const {
        std::vector<KnownScrew> known;
        for (const AnalysedString& string : analysis().strings) {
            const int number = string.string.number;
            const auto response = learned(number, string.comparison, bench_of(number).round).response.known();
            if (response) known.push_back({number, *response});
        }
        return known;
    }

    std::vector<BenchEvent> taken_events() { return std::exchange(events_, {}); }

private:
    [[nodiscard]] Seconds now() const {
        return Seconds{static_cast<double>(recording_->frames) / recording_->format.sample_rate.value()};
    }
    [[nodiscard]] BenchString& bench_of(int string) {
        return state_.strings[static_cast<std::size_t>(string - 1)];
    }
    [[nodiscard]] const BenchString& bench_of(int string) const {
        return state_.strings[static_cast<std::size_t>(string - 1)];
    }

    template <class What>
    void say(What what) {
        state_.now = now();
        events_.push_back({state_.now, std::move(what)});
    }

    void say_refusal(std::optional<int> string, Refusal reason, std::string message) {
        state_.last_note.reset();
        state_.ringing.reset();
        state_.last_refusal = RefusedNote{string, reason, std::move(message)};
        say(*state_.last_refusal);
    }

    void listen(const AudioBlock& block) {
        recording_->frames += block.frames();
        for (ChannelListener& channel : recording_->channels) {
            channel.feed(block, *estimator_);
        }
    }

    void take_step() {
        state_.now = now();
        take_finished();
        watch(best_channel(*recording_).ringing());
    }

    void take_finished() {
        const ChannelListener& chosen = best_channel(*recording_);
        std::size_t& seen = seen_[static_cast<std::size_t>(&chosen - recording_->channels.data())];
        for (; seen < chosen.plucks().size(); ++seen) {
            const MeasuredPluck& pluck = chosen.plucks()[seen];
            if (log_.at(pluck.start) == nullptr) take(pluck);
        }
    }

    // ---- while it rings

    void watch(const std::optional<Pluck>& ringing) {
        if (!ringing || ringing->start < session_begins) {
            watched_.reset();
            state_.ringing.reset();
            return;
        }
        if (!watched_ || watched_->start != ringing->start) {
            watched_.emplace().start = ringing->start;
            state_.ringing.reset();
        }
        const Seconds age = now() - ringing->start;
        if (watched_->refused) return;
        look_at_input(*ringing, age);
        if (watched_->refused) return;
        const bool newly_disturbed = ringing->flaws.disturbed && !watched_->disturbed;
        watched_->disturbed = ringing->flaws.disturbed;
        bool due = newly_disturbed;
        double look = 0.0;
        while (watched_->next_look < looks.size() && age.value() >= looks[watched_->next_look]) {
            due = true;
            look = looks[watched_->next_look++];
        }
        if (due) look_at_pitch(*ringing, look, age, newly_disturbed);
    }

    void look_at_input(const Pluck& ringing, Seconds age) {
        if (!watched_->level_said && age >= level_known_from) {
            watched_->level_said = true;
            state_.level = LevelHeard{ringing.level, input_level(ringing.level)};
            say(*state_.level);
            if (ringing.level - ringing.noise_level < quiet) {
                refuse_ringing(Refusal::too_quiet, std::nullopt,
                               "hardly stands out of the noise; come closer or turn the gain up");
                return;
            }
        }
        if (ringing.flaws.not_finite && !losses_.empty() &&
            losses_.back() > ringing.start - around_an_attack) {
            refuse_ringing(Refusal::samples_lost, std::nullopt,
                           "a part of the note never arrived; pluck it again");
        } else if (ringing.flaws.not_finite) {
            refuse_ringing(Refusal::not_finite, std::nullopt,
                           "the input sends samples that are no numbers; check the device");
        } else if (ringing.flaws.clipped) {
            refuse_ringing(Refusal::overload, std::nullopt,
                           "too loud for the input; turn the gain down or pluck more softly");
        }
    }

    void look_at_pitch(const Pluck& ringing, double look, Seconds age, bool newly_disturbed) {
        const std::optional<PitchReading> latest = estimator_->estimate(ringing);
        if (newly_disturbed && (!latest || latest->uncertainty > known_before_it_was_disturbed)) {
            refuse_ringing(Refusal::talked_over, std::nullopt,
                           "another sound fell into it; pluck it again in the quiet");
            return;
        }
        if (!latest) {
            if (look >= pitch_missing_from) {
                refuse_ringing(Refusal::no_pitch, std::nullopt,
                               "a sound without a pitch; if it was a pluck, pluck again and let it ring");
            }
            return;
        }
        const PitchReading& reading = watched_->pitch.look(*latest);
        const bool showable = reading.uncertainty <= worth_showing;
        if (!showable && look < place_known_from) return;
        const Place place = place_of(reading, ringing.start);
        if (!place.string) {
            if (look >= place_known_from) refuse_ringing(place.refusal, std::nullopt, place.message);
            return;
        }
        if (too_far_off(place)) {
            if (look >= place_known_from) refuse_ringing(Refusal::off_pitch, place.string, off_pitch(place));
            return;
        }
        if (!showable) return;
        const bool sure = reading.uncertainty <= good_for_a_verdict;
        if (watched_->shown && (watched_->shown_sure || !sure)) return;
        watched_->shown = true;
        watched_->shown_sure = sure;
        const NoteKind kind = kind_of(*place.string, place.open);
        state_.current = place.string;
        state_.last_refusal.reset();
        state_.ringing = RingingReading{*place.string,
                                        kind,
                                        reading.frequency,
                                        reading.uncertainty,
                                        off_of(*place.string, kind, reading, place.off),
                                        age};
        say(*state_.ringing);
    }

    void refuse_ringing(Refusal reason, std::optional<int> string, std::string message) {
        watched_->refused = reason;
        watched_->refused_string = string;
        if (nobody_was_asked(reason)) return;
        say_refusal(string, reason, std::move(message));
        say(state_.awaited);
    }

    /// While a screw is turned nobody is asked to pluck, and tools make noise.
    [[nodiscard]] bool nobody_was_asked(Refusal reason) const {
        return state_.awaited.after_move && reason == Refusal::no_pitch;
    }

    // ---- where it belongs

    [[nodiscard]] Place place_of(const PitchReading& reading, Seconds start) const {
        std::vector<HeardNote> notes;
        for (const LoggedPluck& pluck : log_.plucks()) {
            if (!pluck.out) notes.push_back({0, pluck.start, options_.string, pluck.reading, true});
        }
        notes.push_back({0, start, options_.string, reading, true});
        const Pairing pairing = pair_notes(notes, instrument_, PluckOrder::alternate);
        Place place;
        place.string = pairing.places.back().string;
        if (!place.string) {
            place.message = "a note of no string of this tuning; check the fret, or tune first";
            for (const Warning& warning : pairing.warnings) {
                if (!warning.at || *warning.at != start) continue;
                if (warning.code == WarningCode::ambiguous_string) place.refusal = Refusal::ambiguous;
                if (warning.code == WarningCode::ambiguous_string ||
                    warning.code == WarningCode::unknown_note) {
                    place.message = warning.message;
                }
            }
            return place;
        }
        place.open = pairing.places.back().kind == NoteKind::open;
        const Hertz open = instrument_.string(*place.string).open_frequency;
        place.off = interval(place.open ? open : 2.0 * open, reading.frequency);
        return place;
    }

    static bool too_far_off(const Place& place) {
        return !place.open && magnitude(place.off) > out_of_tune_from;
    }

    static std::string off_pitch(const Place& place) {
        return fmt::format("{}; tune the open string first", off_in_words(place.off));
    }

    [[nodiscard]] NoteKind kind_of(int string, bool open) const {
        if (open) return NoteKind::open;
        return log_.pending(string) != nullptr ? NoteKind::fretted : NoteKind::harmonic;
    }

    /// Fretted: from the harmonic before it; otherwise from the string's note.
    [[nodiscard]] Cents off_of(int string, NoteKind kind, const PitchReading& reading, Cents off) const {
        if (kind != NoteKind::fretted) return off;
        return interval(log_.pending(string)->reading->frequency, reading.frequency);
    }

    // ---- when it has ended

    void take(const MeasuredPluck& pluck) {
        const std::optional<Watched> watched =
            watched_ && magnitude(watched_->start - pluck.start) < around_an_attack ? watched_ : std::nullopt;
        if (watched) watched_.reset();
        state_.ringing.reset();
        if (watched && watched->refused) {
            log_.add(
                {pluck.start, pluck.reading, watched->refused_string, NoteKind::open, 1, watched->refused});
            return;
        }
        if (const auto refusal = flaw_of(pluck)) {
            refuse(pluck, std::nullopt, refusal->first, refusal->second);
            return;
        }
        const Place place = place_of(*pluck.reading, pluck.start);
        if (!place.string) {
            refuse(pluck, std::nullopt, place.refusal, place.message);
        } else if (too_far_off(place)) {
            refuse(pluck, place.string, Refusal::off_pitch, off_pitch(place));
        } else {
            count_in(pluck, place);
        }
    }

    [[nodiscard]] std::optional<std::pair<Refusal, std::string>> flaw_of(const MeasuredPluck& pluck) const {
        // A source may put a frame that is no number where something was lost.
        if (lost_something(pluck))
            return std::pair{Refusal::samples_lost, "a part of the note never arrived; pluck it again"};
        if (pluck.flaws.not_finite)
            return std::pair{Refusal::not_finite, "the input sends samples that are no numbers"};
        if (pluck.flaws.clipped)
            return std::pair{Refusal::overload, "too loud for the input; turn the gain down"};
        if (!pluck.reading) {
            return std::pair{Refusal::no_pitch, pluck.flaws.too_short
                                                    ? "stopped too soon; let it ring for two seconds or more"
                                                    : "no string rang; pluck it again and let it ring"};
        }
        if (pluck.level - pluck.noise_level < quiet)
            return std::pair{Refusal::too_quiet, "hardly stands out of the noise; come closer"};
        if (pluck.flaws.disturbed && pluck.reading->uncertainty > known_before_it_was_disturbed)
            return std::pair{Refusal::talked_over, "another sound fell into it; pluck it again"};
        return std::nullopt;
    }

    [[nodiscard]] bool lost_something(const MeasuredPluck& pluck) const {
        return std::any_of(losses_.begin(), losses_.end(), [&](Seconds lost) {
            return lost > pluck.start - around_an_attack && lost < pluck.start + pluck.usable_duration;
        });
    }

    void refuse(const MeasuredPluck& pluck, std::optional<int> string, Refusal reason, std::string message) {
        log_.add({pluck.start, pluck.reading, string, NoteKind::open, 1, reason});
        if (nobody_was_asked(reason)) return;
        say_refusal(string, reason, std::move(message));
        say(state_.awaited);
    }

    void count_in(const MeasuredPluck& pluck, const Place& place) {
        const int string = *place.string;
        BenchString& bench = bench_of(string);
        if (begins_round(bench, place, pluck.start)) begin_round(bench);
        leave_others_alone(string);
        if (place.open) {
            for (LoggedPluck& earlier : log_.plucks()) {
                if (earlier.out || earlier.string != string || earlier.kind != NoteKind::open) continue;
                const Cents by = interval(earlier.reading->frequency, pluck.reading->frequency);
                if (magnitude(by) > retuned) earlier.out = Refusal::earlier_tuning;
            }
        }
        const NoteKind kind = kind_of(string, place.open);
        const Cents off = off_of(string, kind, *pluck.reading, place.off);
        log_.add({pluck.start, pluck.reading, string, kind, bench.round, {}});
        state_.current = string;
        const Analysis analysis = this->analysis();
        if (kind == NoteKind::fretted && contradicts(analysis, string)) {
            refuse_pair(string);
            return;
        }
        say_note(pluck, bench, kind, off);
        recount(analysis);
        say_what_follows(bench, kind);
        await_next(string);
    }

    [[nodiscard]] bool begins_round(const BenchString& bench, const Place& place, Seconds start) {
        if (bench.stage != StringStage::to_move) return false;
        const LoggedPluck* last_of_all = log_.last(std::nullopt);
        const LoggedPluck* last = log_.last(bench.number);
        return place.open || last_of_all != last || start - last->start > turning_a_screw;
    }

    void begin_round(BenchString& bench) {
        for (LoggedPluck& pluck : log_.plucks()) {
            if (!pluck.out && pluck.string == bench.number) pluck.out = Refusal::earlier_round;
        }
        bench.earlier_rounds.push_back(*bench.result);
        bench.result.reset();
        bench.tuning.reset();
        bench.round += 1;
        say(RoundBegan{bench.number, bench.round});
    }

    void reopen_round(BenchString& bench) {
        bench.earlier_rounds.pop_back();
        bench.round -= 1;
        for (LoggedPluck& pluck : log_.plucks()) {
            if (pluck.out == Refusal::earlier_round && pluck.string == bench.number &&
                pluck.round == bench.round) {
                pluck.out.reset();
            }
        }
    }

    void leave_others_alone(int string) {
        for (const BenchString& other : state_.strings) {
            if (other.number == string) continue;
            LoggedPluck* alone = log_.pending(other.number);
            if (alone == nullptr) continue;
            alone->out = Refusal::left_alone;
            say_refusal(other.number, Refusal::left_alone,
                        "its fretted note did not come; begin again with the harmonic");
        }
    }

    /// Whether the last pair made the string sound otherwise than harmonic, then fretted.
    [[nodiscard]] static bool contradicts(const Analysis& analysis, int string) {
        const AnalysedString& analysed = analysis.strings[static_cast<std::size_t>(string - 1)];
        const auto warned = [&](WarningCode code) {
            return std::find(analysed.warnings.begin(), analysed.warnings.end(), code) !=
                   analysed.warnings.end();
        };
        return warned(WarningCode::order_contradicted) || warned(WarningCode::only_harmonics) ||
               warned(WarningCode::only_fretted);
    }

    void refuse_pair(int string) {
        log_.last(string)->out = Refusal::wrong_kind;
        log_.pending(string)->out = Refusal::wrong_kind;
        say_refusal(string, Refusal::wrong_kind,
                    "the pair does not sound like harmonic, then fretted; begin again with the harmonic");
        recount();
        await_again(string);
    }

    void say_note(const MeasuredPluck& pluck, const BenchString& bench, NoteKind kind, Cents off) {
        state_.last_refusal.reset();
        state_.last_note = FinishedNote{bench.number,
                                        kind,
                                        bench.round,
                                        log_.count(bench.number, kind),
                                        pluck.reading->frequency,
                                        pluck.reading->uncertainty,
                                        off,
                                        note_quality(pluck.reading->uncertainty),
                                        pluck.level,
                                        flaws_of(pluck)};
        say(*state_.last_note);
    }

    // ---- what is known of a string

    /// All strings: what one hand scatters on one of them is part of the uncertainty of all.
    void recount() { recount(analysis()); }
    void recount(const Analysis& analysis) {
        for (BenchString& bench : state_.strings)
            recount(bench, analysis);
    }

    void recount(BenchString& bench, const Analysis& analysis) {
        const int string = bench.number;
        bench.harmonics = log_.count(string, NoteKind::harmonic);
        bench.fretted = log_.count(string, NoteKind::fretted);
        const AnalysedString& analysed = analysis.strings[static_cast<std::size_t>(string - 1)];
        hear_tuning(bench, analysed);
        bench.result.reset();
        bench.screw.reset();
        const Learned screw = learned(string, analysed.comparison, bench.round);
        bench.outcomes = screw.outcomes;
        if (analysed.comparison && analysed.move) {
            bench.result = result_of(bench, analysed, screw.response);
            if (!screw.outcomes.empty() && screw.outcomes.back()) {
                const StringResult& before = bench.earlier_rounds.back();
                bench.screw = ScrewLearned{string,
                                           *screw.outcomes.back(),
                                           screw.response.cents_per_turn(),
                                           before.turns.value,
                                           before.error.value,
                                           bench.result->error.value};
            }
        }
        if (!bench.result) {
            const bool any = bench.harmonics > 0 || !bench.earlier_rounds.empty();
            bench.stage = any ? StringStage::measuring : StringStage::untouched;
        } else if (bench.result->verdict == Verdict::move) {
            bench.stage = StringStage::to_move;
        } else {
            bench.stage =
                bench.result->verdict == Verdict::in_tolerance ? StringStage::done : StringStage::measuring;
        }
    }

    void hear_tuning(BenchString& bench, const AnalysedString& analysed) {
        const LoggedPluck* last = nullptr;
        const LoggedPluck* open = nullptr;
        for (const LoggedPluck& pluck : log_.plucks()) {
            if (pluck.out || pluck.string != bench.number) continue;
            last = &pluck;
            if (pluck.kind == NoteKind::open) open = &pluck;
        }
        if (last == nullptr) return;
        if (analysed.tuning) {
            bench.tuning =
                TuningHeard{bench.number, analysed.tuning->off,
                            open != nullptr ? open->reading->uncertainty : last->reading->uncertainty,
                            analysed.tuning->from_open};
        } else if (last->kind == NoteKind::harmonic) {
            // The harmonic that waits for its partner is in no comparison yet, but tells the tuning already.
            const double B = 0.25 * last->reading->inharmonicity;
            const Hertz frequency = 0.5 * std::sqrt((1.0 + B) / (1.0 + 4.0 * B)) * last->reading->frequency;
            bench.tuning = TuningHeard{bench.number,
                                       interval(instrument_.string(bench.number).open_frequency, frequency),
                                       last->reading->uncertainty, false};
        }
    }

    [[nodiscard]] StringResult result_of(const BenchString& bench, const AnalysedString& analysed,
                                         const BridgeResponse& response) const {
        const OctaveComparison& comparison = *analysed.comparison;
        const bool thread = instrument_.string(bench.number).saddle.thread_pitch.has_value();
        return {bench.number,
                bench.round,
                comparison.fretted_notes,
                comparison.error,
                comparison.fretted_notes < pairs_for_a_verdict ? Verdict::measure_again : analysed.verdict,
                *analysed.move,
                response.turns_for(comparison.error),
                response.learned() ? TurnsFrom::moves : (thread ? TurnsFrom::thread : TurnsFrom::guess),
                analysed.warnings};
    }

    /// What the moves so far have taught about a screw, and what came of each of them.
    struct Learned {
        BridgeResponse response;
        std::vector<std::optional<MoveOutcome>> outcomes;
    };
    /// round  the one that `now` is of
    [[nodiscard]] Learned learned(int string, const std::optional<OctaveComparison>& now, int round) const {
        Learned result{response_of(instrument_.string(string), options_.screws), {}};
        const auto& rounds = bench_of(string).earlier_rounds;
        const std::size_t moves = std::min(rounds.size(), static_cast<std::size_t>(round - 1));
        for (std::size_t i = 0; i < moves; ++i) {
            const bool is_last = i + 1 == moves;
            result.outcomes.emplace_back();
            if (is_last && (!now || now->fretted_notes < pairs_for_a_verdict)) break;
            result.outcomes.back() = result.response.learn(
                {rounds[i].error, rounds[i].turns.value, is_last ? now->error : rounds[i + 1].error});
        }
        return result;
    }

    void say_what_follows(BenchString& bench, NoteKind kind) {
        if (bench.tuning && kind != NoteKind::fretted) say(*bench.tuning);
        if (kind != NoteKind::fretted || !bench.result) return;
        if (bench.screw && bench.result->pairs == pairs_for_a_verdict) say(*bench.screw);
        say(*bench.result);
    }

    // ---- what comes next

    void await_next(int string) { await(next_after(string), false); }
    void await_again(int string) { await({string, kind_of(string, false), false}, true); }

    void await(Awaited next, bool say_it_again) {
        const bool changed = !(next == state_.awaited);
        state_.awaited = next;
        if (changed || say_it_again) say(state_.awaited);
    }

    [[nodiscard]] Awaited next_after(int string) const {
        const BenchString& bench = bench_of(string);
        if (bench.stage == StringStage::to_move && log_.pending(string) == nullptr)
            return {string, NoteKind::harmonic, true};
        if (bench.stage != StringStage::done || log_.pending(string) != nullptr)
            return {string, kind_of(string, false), false};
        if (options_.string) return {std::nullopt, NoteKind::harmonic, false};
        // The neighbour on the thinner side first, then round.
        const auto count = static_cast<int>(state_.strings.size());
        for (const StringStage wanted :
             {StringStage::measuring, StringStage::untouched, StringStage::to_move}) {
            for (int i = 1; i < count; ++i) {
                const int other = (string - 1 - i + 2 * count) % count + 1;
                if (bench_of(other).stage == wanted)
                    return {other, NoteKind::harmonic, wanted == StringStage::to_move};
            }
        }
        return {std::nullopt, NoteKind::harmonic, false};
    }

    Instrument instrument_;
    BenchOptions options_;
    std::optional<PitchEstimator> estimator_;
    std::optional<ListenedRecording> recording_;
    std::uint64_t frames_in_step_ = 1;
    std::vector<std::size_t> seen_;  // plucks taken, one a channel
    std::vector<Seconds> losses_;
    std::vector<Warning> source_warnings_;
    std::optional<Watched> watched_;
    PluckLog log_;
    BenchState state_;
    std::vector<BenchEvent> events_;
};

BenchSession::BenchSession(Instrument instrument, BenchOptions options)
    : work_{std::make_unique<Work>(std::move(instrument), std::move(options))} {}
BenchSession::~BenchSession() = default;
BenchSession::BenchSession(BenchSession&&) noexcept = default;
BenchSession& BenchSession::operator=(BenchSession&&) noexcept = default;

std::vector<BenchEvent> BenchSession::begin(std::string source, AudioFormat format) {
    work_->begin(std::move(source), format);
    return work_->taken_events();
}
std::vector<BenchEvent> BenchSession::feed(const AudioBlock& block) {
    work_->feed(block);
    return work_->taken_events();
}
std::vector<BenchEvent> BenchSession::lose() {
    work_->lose();
    return work_->taken_events();
}
std::vector<BenchEvent> BenchSession::undo_last_pluck() {
    work_->undo_last_pluck();
    return work_->taken_events();
}
std::vector<BenchEvent> BenchSession::restart_string() {
    work_->restart_string();
    return work_->taken_events();
}
std::vector<BenchEvent> BenchSession::finish() {
    work_->finish();
    return work_->taken_events();
}
void BenchSession::add_warning(Warning warning) { work_->add_warning(std::move(warning)); }
const BenchState& BenchSession::state() const { return work_->state(); }
const Instrument& BenchSession::instrument() const { return work_->instrument(); }
Analysis BenchSession::analysis() const { return work_->analysis(); }
Analysis BenchSession::analysis_of_round(int round) const { return work_->analysis_of_round(round); }
std::vector<KnownScrew> BenchSession::screws() const { return work_->screws(); }

}  // namespace midspan
