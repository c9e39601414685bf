// ringing_note.cpp: how a note ends, and what of it is clean.
//
// Room: notes. Pure. May include: ground.
#include "notes/ringing_note.hpp"

#include <algorithm>

#include "notes/sudden_fall.hpp"

namespace midspan {
namespace {

const FrameNumber longest_kept = frames_in(Seconds{10.0});
const FrameNumber heard_over = frames_in(Seconds{0.05});
const FrameNumber silent_for = frames_in(Seconds{0.15});
const FrameNumber level_over = frames_in(Seconds{0.02});
const FrameNumber first_fall = frames_in(Seconds{0.1});  // behind the attack's noise
const FrameNumber fall_proved_after = frames_in(Seconds{0.06});
const FrameNumber back_for = frames_in(Seconds{0.04});
const FrameNumber brief = frames_in(Seconds{0.4});
const FrameNumber decayed_after = frames_in(Seconds{1.0});

// Above the quietest of the quiet, which a narrow band of noise leaves further behind than a wide one: about
// where the note is as loud as the noise in its band.
constexpr BandValues still_heard{3.2F, 2.5F, 1.8F, 1.5F};
constexpr float stopped = 0.16F;                            // -8 dB
constexpr float recovered = 2.0F;                           // 3 dB
constexpr float back_again = 2.0F;                          // within 3 dB of what was before
constexpr BandValues decayed_to{0.5F, 0.6F, 0.75F, 0.85F};  // 3 dB where noise wanders most, to 0.7 dB

}  // namespace

RingingNote::RingingNote(FrameNumber attack, FrameNumber settled, const NoiseFloor& floor)
    : attack_{attack},
      settled_{settled},
      quiet_{floor.in_band()},
      followed_to_{attack},
      last_heard_{attack},
      alone_since_{settled},
      longest_{settled, settled} {}

void RingingNote::follow(const FrameHistory& history, const NoiseFloor& floor) {
    for (std::size_t band = 0; band < bands; ++band)
        quiet_[band] = std::min(quiet_[band], floor.in_band()[band]);
    for (; followed_to_ < history.count() && !end_; ++followed_to_)
        follow_frame(history, followed_to_);
}

void RingingNote::follow_frame(const FrameHistory& history, FrameNumber n) {
    const BandValues now = history.mean(n + 1 - heard_over, n + 1);
    for (std::size_t band = 0; band < bands; ++band) {
        if (now[band] > still_heard[band] * quiet_[band]) last_heard_ = n;
    }
    if (n - last_heard_ >= silent_for) {
        end_ = std::max(last_heard_ + 1 - heard_over, attack_);
    } else if (n - attack_ >= longest_kept) {
        end_ = n;
    } else if (n - attack_ == decayed_after && !decays(history, n)) {
        is_steady_ = true;
        end_ = n;
    } else if (disturbance_) {
        look_beyond_disturbance(history, n);
    } else {
        look_for_fall(history, n);
    }
}

bool RingingNote::decays(const FrameHistory& history, FrameNumber n) const {
    // One that was stopped before it could be told is given the benefit of the doubt: it is shown, not lost.
    if (n < attack_ + 4 * heard_over) return true;
    const BandValues first = history.mean(attack_ + heard_over, attack_ + 4 * heard_over);
    const BandValues now = history.mean(n + 1 - 3 * heard_over, n + 1);
    for (std::size_t band = 0; band < bands; ++band) {
        if (first[band] > still_heard[band] * quiet_[band] && now[band] < decayed_to[band] * first[band])
            return true;
    }
    return false;
}

void RingingNote::look_for_fall(const FrameHistory& history, FrameNumber n) {
    if (n < settled_ + first_fall) return;
    const BandValues now = history.mean(n + 1 - level_over, n + 1);
    if (!fall_) {
        if (const auto begin = sudden_fall(history, quiet_, n, level_over)) fall_ = Fall{*begin, n, now};
    } else if (level_left(fall_->level, now, quiet_).most > recovered) {
        fall_.reset();
    } else if (n - fall_->seen >= fall_proved_after) {
        end_ = fall_->begin;
    } else {
        for (std::size_t band = 0; band < bands; ++band)
            fall_->level[band] = std::min(fall_->level[band], now[band]);
    }
}

void RingingNote::disturb(const FrameHistory& history, FrameNumber begin) {
    disturbed_ = true;
    fall_.reset();
    if (disturbance_) {
        disturbance_->back_since.reset();
        return;
    }
    begin = std::max(begin, attack_);
    if (begin - alone_since_ > longest_.length()) longest_ = {alone_since_, begin};
    disturbance_ = Disturbance{begin, history.mean(begin - level_over, begin), std::nullopt};
}

void RingingNote::look_beyond_disturbance(const FrameHistory& history, FrameNumber n) {
    if (n <= disturbance_->begin) return;
    const BandValues now = history.mean(n + 1 - level_over, n + 1);
    for (std::size_t band = 0; band < bands; ++band) {
        if (now[band] > back_again * (disturbance_->before[band] + quiet_[band])) {
            disturbance_->back_since.reset();
            return;
        }
    }
    if (!disturbance_->back_since) disturbance_->back_since = n;
    if (n - *disturbance_->back_since < back_for) return;
    if (n - disturbance_->begin < brief &&
        level_left(disturbance_->before, now, quiet_).on_average < stopped) {
        end_ = disturbance_->begin;  // what fell into it was the finger that stopped it
        return;
    }
    alone_since_ = n;
    disturbance_.reset();
}

void RingingNote::cut_off(FrameNumber frame) {
    cut_off_ = true;
    end_ = std::max(frame, attack_);
}

FrameSpan RingingNote::clean(FrameNumber now) const {
    FrameNumber end = end_.value_or(now);
    if (fall_) end = std::min(end, fall_->begin);
    if (disturbance_) end = std::min(end, disturbance_->begin);
    FrameSpan longest = longest_;
    if (end - alone_since_ > longest.length()) longest = {alone_since_, end};
    longest.end = std::max(longest.begin, std::min(longest.end, end));
    return longest;
}

}  // namespace midspan
