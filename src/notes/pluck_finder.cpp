// pluck_finder.cpp: the way of a sample through this room, and what follows from every event.
//
// Room: notes. Pure. May include: ground.
//
// Between two frames the finder is in one of four states:
//
//     note_   attack_
//     -       -         quiet: waits for something sudden
//     -       waits     something sudden, not yet judged
//     rings   -         a note is followed to its end
//     rings   waits     something sudden fell into a note
//
// An attack waits 0.11 s for the judgement, since a tone cannot be told from noise sooner; 0.15 s where the
// lowest string of a bass may sound. Meanwhile the note before it is not followed: whether the sound still is
// that note is just what is not known.
#include "midspan/notes/pluck_finder.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <vector>

#include "notes/attack_judge.hpp"
#include "notes/attack_time.hpp"
#include "notes/attack_watch.hpp"
#include "notes/band_levels.hpp"
#include "notes/decimator.hpp"
#include "notes/frame_history.hpp"
#include "notes/input_check.hpp"
#include "notes/noise_floor.hpp"
#include "notes/ringing_note.hpp"
#include "notes/sample_store.hpp"
#include "notes/sudden_fall.hpp"

namespace midspan {
namespace {

constexpr Seconds shown_before{0.2};  // how much of the past a pluck shows
constexpr Seconds stored{12.0};
constexpr Seconds attack_noise{0.035};
constexpr double attack_periods = 3.0;
constexpr Seconds shortest_for_a_pitch{0.25};
constexpr Seconds finger_before_pluck{0.2};
constexpr Seconds young{0.25};
constexpr Seconds peak_within{0.03};  // of a pluck
constexpr float louder = 2.0F;        // 3 dB
constexpr float much_louder = 4.0F;   // 6 dB
constexpr int clipped_frames_that_matter = 2;
constexpr FrameNumber recording_begins = 4;

Decibels decibels(float mean_square) {
    return Decibels{10.0 * std::log10(std::max(1e-20, static_cast<double>(mean_square)))};
}

}  // namespace

class PluckFinder::Work {
public:
    Work(Hertz sample_rate, Hertz lowest);

    void feed(std::span<const float> samples, const Found& found);
    void finish(const Found& found);
    [[nodiscard]] std::optional<Pluck> ringing() const;

private:
    void take_frame(const Found& found);
    void listen();
    void notice(const Rise& rise);
    void judge(const Found& found);
    [[nodiscard]] bool is_growth_of_note(const Attack& attack) const;
    void follow_note(const Found& found);
    void cut_off_note(FrameNumber touched, const Found& found);
    void begin_note(const Attack& attack);
    void end_note(const Found& found);
    [[nodiscard]] Pluck cut_out(const RingingNote& note, FrameNumber now) const;
    [[nodiscard]] SampleNumber sample_at(FrameNumber frame) const { return frame * frame_length_; }

    Decimator decimator_;
    InputCheck input_check_;
    double rate_;  // of the decimated samples
    SampleNumber frame_length_;
    FrameNumber settling_;
    BandLevels band_levels_;
    FrameHistory history_;
    SampleStore store_;
    NoiseFloor floor_;
    AttackWatch watch_;
    AttackJudge judge_;

    std::vector<float> input_;  // gathered until it fills a frame
    std::size_t gathered_ = 0;
    std::vector<float> clean_;
    std::vector<float> frame_;

    std::optional<Attack> attack_;      // that waits to be judged
    std::optional<RingingNote> note_;   // the pluck that rings
    SampleNumber struck_at_ = 0;        // its attack
    float noise_before_ = 0.0F;         // the quiet before it, mean square
    FrameNumber quiet_since_ = 0;       // the end of the note before
    std::optional<float> usual_level_;  // of plucks so far, mean square
};

namespace {

// Everything happens a frame at a time, so it does not matter how the stream is cut.
SampleNumber frame_length(Hertz rate) { return std::llround(rate.value() * frame_duration.value()); }
Hertz decimated(Hertz rate) { return Hertz{rate.value() / static_cast<double>(decimation(rate))}; }

}  // namespace

PluckFinder::Work::Work(Hertz sample_rate, Hertz lowest)
    : decimator_{sample_rate, static_cast<std::size_t>(frame_length(decimated(sample_rate)))},
      rate_{decimator_.output_rate().value()},
      frame_length_{frame_length(decimator_.output_rate())},
      settling_{frames_in(std::max(attack_noise, Seconds{attack_periods / lowest.value()}))},
      band_levels_{decimator_.output_rate()},
      store_{static_cast<std::size_t>(stored.value() * rate_)},
      watch_{lowest},
      judge_{decimator_.output_rate(), frame_length_, lowest},
      input_(static_cast<std::size_t>(frame_length_) * decimator_.factor()),
      clean_(input_.size()),
      frame_(static_cast<std::size_t>(frame_length_)) {
    assert(lowest.value() > 20.0);
}

void PluckFinder::Work::feed(std::span<const float> samples, const Found& found) {
    while (!samples.empty()) {
        const std::size_t count = std::min(samples.size(), input_.size() - gathered_);
        std::copy_n(samples.begin(), count, input_.begin() + static_cast<std::ptrdiff_t>(gathered_));
        gathered_ += count;
        samples = samples.subspan(count);
        if (gathered_ == input_.size()) {
            gathered_ = 0;
            take_frame(found);
        }
    }
}

void PluckFinder::Work::take_frame(const Found& found) {
    listen();
    if (const auto rise = watch_.look(history_, floor_)) notice(*rise);
    if (attack_) {
        if (history_.count() >= attack_->begin + judge_.judged_after()) judge(found);
    } else if (note_) {
        follow_note(found);
    }
}

void PluckFinder::Work::listen() {
    Frame frame;
    frame.flaws = input_check_.copy_clean(input_, clean_);
    decimator_.feed(clean_, frame_);
    store_.append(frame_);
    frame.in_band = band_levels_.mean_squares(frame_);
    for (const float sample : frame_)
        frame.total += sample * sample;
    frame.total /= static_cast<float>(frame_.size());
    history_.push(frame);
    floor_.follow(history_, note_ || attack_);
}

void PluckFinder::Work::notice(const Rise& rise) {
    if (!attack_) {
        const bool still_the_last = note_ && rise.begin <= note_->attack() + judge_.judged_after();
        if (!still_the_last) attack_ = Attack{rise.begin, rise.begin, rise.before};
        return;
    }
    // A finger touches before it plucks, and the pluck is much the louder of the two. A thump into a young
    // note is not taken for one: it stays in the lowest band.
    if (!rise.above_lowest_band || rise.begin <= attack_->begin + 1) return;
    float until_now = 0.0F;
    for (FrameNumber n = attack_->begin; n < rise.begin; ++n)
        until_now = std::max(until_now, sum_of(history_.mean(n - 1, n + 1), 1));
    const float now = sum_of(history_.mean(history_.count() - 2, history_.count()), 1);
    if (now > much_louder * until_now) attack_ = Attack{rise.begin, attack_->touched, rise.before};
}

void PluckFinder::Work::judge(const Found& found) {
    const Attack attack = *attack_;
    attack_.reset();
    const Heard heard{history_, store_, floor_, quiet_since_, note_.has_value(), usual_level_};
    Origin origin = judge_.origin_of(attack, heard);
    if (origin == Origin::pluck && note_ && is_growth_of_note(attack)) origin = Origin::nothing;
    switch (origin) {
        case Origin::pluck:
            if (note_) cut_off_note(attack.touched, found);
            begin_note(attack);
            break;
        case Origin::dead_note:
            if (note_) cut_off_note(attack.touched, found);
            begin_note(attack);
            note_->stop(attack.begin + settling_);
            end_note(found);
            break;
        case Origin::disturbance:
            if (note_) note_->disturb(history_, attack.touched - 1);
            break;
        case Origin::nothing:
            break;
    }
}

// Some strings, fretless basses most of all, go on swelling for a quarter of a second.
bool PluckFinder::Work::is_growth_of_note(const Attack& attack) const {
    if (attack.begin > note_->attack() + frames_in(young)) return false;
    const FrameNumber end = std::min(history_.count(), attack.begin + frames_in(peak_within));
    return history_.loudest(attack.begin, end) < louder * history_.loudest(note_->attack() - 1, attack.begin);
}

void PluckFinder::Work::follow_note(const Found& found) {
    note_->follow(history_, floor_);
    if (note_->is_steady()) {
        note_.reset();
    } else if (note_->ended()) {
        end_note(found);
    }
}

void PluckFinder::Work::cut_off_note(FrameNumber touched, const Found& found) {
    // The finger may have stopped the string shortly before it was heard to pluck it.
    FrameNumber end = touched - 1;
    for (FrameNumber n = touched - 1; n > touched - frames_in(finger_before_pluck); --n) {
        if (const auto fall = sudden_fall(history_, floor_.in_band(), n, 2)) end = std::min(end, *fall);
    }
    note_->cut_off(end);
    end_note(found);
}

void PluckFinder::Work::begin_note(const Attack& attack) {
    struck_at_ = attack_time(store_, attack.begin, frame_length_);
    noise_before_ = floor_.loudest();
    note_.emplace(attack.begin, attack.begin + settling_, floor_);
}

void PluckFinder::Work::end_note(const Found& found) {
    const RingingNote note = *note_;
    note_.reset();
    const FrameNumber end = note.clean(history_.count()).end;
    // Hum that was there from the first sample on began as suddenly as a pluck.
    if (note.attack() < recording_begins && !note.decays(history_, end - 1)) {
        floor_.learn(history_, end);
        return;
    }
    quiet_since_ = std::max(quiet_since_, end);
    const Pluck pluck = cut_out(note, history_.count());
    if (!pluck.flaws.too_short) {
        const float level = history_.loudest(note.attack() - 1, note.attack() + settling_);
        usual_level_ = usual_level_ ? std::sqrt(*usual_level_ * level) : level;
    }
    found(pluck);
}

Pluck PluckFinder::Work::cut_out(const RingingNote& note, FrameNumber now) const {
    const FrameSpan clean = note.clean(now);
    const SampleNumber first =
        std::max<SampleNumber>(0, struck_at_ - std::llround(shown_before.value() * rate_));
    // Counted from the pluck itself, not from the frame it fell into: what the first milliseconds are worth
    // must not depend on how the frames lie.
    const bool from_its_attack = clean.begin == note.attack() + settling_;
    const SampleNumber begin = from_its_attack ? struck_at_ + settling_ * frame_length_
                                               : std::max(sample_at(clean.begin), struck_at_);
    const SampleNumber usable_begin = std::min(begin, store_.count());
    const SampleNumber usable_end = std::max(std::min(sample_at(clean.end), store_.count()), usable_begin);

    PluckFlaws flaws;
    flaws.cut_off = note.was_cut_off();
    flaws.disturbed = note.was_disturbed();
    flaws.too_short = clean.length() + settling_ < frames_in(shortest_for_a_pitch);
    int clipped_frames = 0;
    for (FrameNumber n = note.attack(); n < std::min(now, std::max(clean.end, clean.begin)); ++n) {
        const InputFlaws& in_frame = history_.at(n).flaws;
        flaws.not_finite |= in_frame.not_finite;
        if (n >= clean.begin && in_frame.clipped) ++clipped_frames;
    }
    flaws.clipped = clipped_frames >= clipped_frames_that_matter;

    const auto index = [&](SampleNumber n) { return static_cast<std::size_t>(n - first); };
    return {
        Seconds{static_cast<double>(struck_at_ - static_cast<SampleNumber>(decimator_.delay())) / rate_},
        Hertz{rate_},
        store_.between(first, usable_end),
        index(struck_at_),
        index(usable_begin),
        index(usable_end),
        decibels(history_.loudest(note.attack() - 1, std::min(now, std::max(clean.end, note.attack() + 4)))),
        decibels(noise_before_),
        flaws};
}

void PluckFinder::Work::finish(const Found& found) {
    if (attack_) judge(found);
    if (!note_) return;
    follow_note(found);
    if (note_) end_note(found);
}

std::optional<Pluck> PluckFinder::Work::ringing() const {
    if (!note_) return std::nullopt;
    return cut_out(*note_, attack_ ? attack_->touched - 1 : history_.count());
}

PluckFinder::PluckFinder(Hertz sample_rate, Hertz lowest)
    : work_{std::make_unique<Work>(sample_rate, lowest)} {}
PluckFinder::~PluckFinder() = default;
PluckFinder::PluckFinder(PluckFinder&&) noexcept = default;
PluckFinder& PluckFinder::operator=(PluckFinder&&) noexcept = default;

void PluckFinder::feed(std::span<const float> samples, const Found& found) { work_->feed(samples, found); }
void PluckFinder::finish(const Found& found) { work_->finish(found); }
std::optional<Pluck> PluckFinder::ringing() const { return work_->ringing(); }

}  // namespace midspan
