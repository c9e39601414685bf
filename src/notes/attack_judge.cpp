// attack_judge.cpp: the questions put to an attack.
//
// Room: notes. Pure. May include: ground.
#include "notes/attack_judge.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <span>

#include "notes/sudden_fall.hpp"

namespace midspan {
namespace {

constexpr Seconds attack_noise{0.025};  // before that no tone is listened for
constexpr Seconds stopped_within{0.15};
constexpr FrameNumber attack_margin = 3;  // by which a rise may be noticed late

// Found by trial on synthetic plucks of every kind and on thumps, squeaks, clicks and syllables. Ratios are
// of powers.
constexpr float tone_clearly_risen = 6.0F;
constexpr float tone_risen = 3.0F;
constexpr float tone_of_loud_attack = 0.2F;
constexpr float tonal_share = 0.45F;         // of what is new in the spectrum
constexpr float tone_of_attack = 0.02F;      // of what the attack added
constexpr float faintest_pluck = 3e-4F;      // of the usual level, -35 dB
constexpr float faintest_dead_note = 0.03F;  // -15 dB
constexpr float dead_above_floor = 30.0F;
constexpr float above_the_thumps = 0.3F;  // of its power above the lowest band
constexpr float longer_than_a_click = 0.03F;
constexpr float gone = 0.1F;
constexpr float rings_on = 0.2F;
constexpr float stands_out = 0.3F;

// How much each band is louder than it was before the attack, where that can be told.
BandValues louder(const BandValues& now, const BandValues& before) {
    BandValues more{};
    for (std::size_t band = 0; band < bands; ++band) {
        if (now[band] > 1.5F * before[band]) more[band] = now[band] - before[band];
    }
    return more;
}

// Loudness around an attack, mean squares.
struct Loudness {
    BandValues struck;  // what the attack added in its first 20 ms, by band
    float early;        // the same altogether, or what it added in the next 20 ms if that is more
    float later;        // what is left of it 70 to 100 ms after
    float peak;         // the loudest 10 ms
    float usual;        // the loudest 10 ms of plucks so far
    float before;       // what was there in the 60 ms before, all bands at their loudest
    float rang;         // what was there 80 to 100 ms before
    float rings;        // what is there 70 to 100 ms after
    float first_above;  // in its first and its second 10 ms, without the lowest band
    float second_above;
};

Loudness loudness_around(const Attack& attack, const Heard& heard) {
    const FrameHistory& history = heard.history;
    const FrameNumber now = history.count();
    const auto level = [&](FrameNumber first, FrameNumber last) {
        return history.mean(std::min(now - 1, attack.begin + first), std::min(now, attack.begin + last));
    };
    Loudness loud{};
    loud.struck = louder(level(0, 4), attack.before);
    loud.early = std::max(sum_of(loud.struck), sum_of(louder(level(4, 8), attack.before)));
    loud.later = sum_of(louder(level(14, 20), attack.before));
    loud.peak = history.loudest(attack.begin - 1, std::min(now, attack.begin + 6));
    loud.usual = heard.usual_level.value_or(loud.peak);
    loud.before = sum_of(attack.before);
    loud.rang = sum_of(history.mean(attack.touched - 20, attack.touched - 16));
    loud.rings = sum_of(level(14, 20));
    loud.first_above = sum_of(level(0, 2), 1);
    loud.second_above = sum_of(level(2, 4), 1);
    return loud;
}

bool is_pluck(const NewTone& tone, const Loudness& loud, float swelling) {
    // The same string plucked again raises its partials less, but then most of what it adds is tone.
    const bool clear = tone.clearest > tone_clearly_risen ||
                       (tone.clearest > tone_risen && tone.power > tone_of_loud_attack * loud.early &&
                        loud.early > loud.rang);
    const bool rings =
        loud.early > 0.0F && tone.power > tone_of_attack * loud.early && tone.share > tonal_share;
    const bool swells = loud.later * tone.lasting > swelling * loud.early;
    return clear && rings && !swells && loud.peak > faintest_pluck * loud.usual;
}

bool is_like_a_pluck(const Loudness& loud, const NoiseFloor& floor) {
    const float struck = sum_of(loud.struck);
    return loud.peak > faintest_dead_note * loud.usual && loud.peak > dead_above_floor * floor.loudest() &&
           struck > loud.before && sum_of(loud.struck, 1) > above_the_thumps * struck &&
           loud.second_above > longer_than_a_click * loud.first_above;
}

}  // namespace

// A voice takes 0.1 s to reach its level, a string a period or two, a
// bass with its body more.
AttackJudge::AttackJudge(Hertz sample_rate, SampleNumber frame_length, Hertz lowest)
    : frame_length_{frame_length},
      attack_noise_{std::llround(attack_noise.value() * sample_rate.value())},
      listener_{sample_rate, lowest},
      swelling_{1.9F * static_cast<float>(std::pow(std::max(1.0, 65.0 / lowest.value()), 2.0))} {
    const SampleNumber needed = attack_noise_ + static_cast<SampleNumber>(listener_.stretch());
    judged_after_ = needed / frame_length_ + 2;
}

Origin AttackJudge::origin_of(const Attack& attack, const Heard& heard) {
    const Loudness loud = loudness_around(attack, heard);
    const std::optional<NewTone> tone = new_tone(attack, heard);
    if (tone && is_pluck(*tone, loud, swelling_)) return Origin::pluck;

    const bool died = !tone || loud.later < gone * sum_of(loud.struck);
    const bool old_note_rings_on = heard.note_rings && loud.rings > rings_on * loud.rang;
    if (died && !old_note_rings_on && is_like_a_pluck(loud, heard.floor)) return Origin::dead_note;
    return loud.early > stands_out * loud.rang ? Origin::disturbance : Origin::nothing;
}

// Nothing when the recording ends before a tone could be heard.
std::optional<NewTone> AttackJudge::new_tone(const Attack& attack, const Heard& heard) {
    const auto stretch = static_cast<SampleNumber>(listener_.stretch());
    const SampleNumber from = attack.begin * frame_length_ + attack_noise_;
    const std::span<const float> after = heard.store.between(from, from + stretch);
    if (static_cast<SampleNumber>(after.size()) < stretch / 2) return std::nullopt;

    // Old is what rang before the finger came; if it was stopped on the way, only what was left of it.
    FrameNumber old_from = heard.quiet_since;
    FrameNumber old_until = attack.touched - 1;
    const FrameNumber stopped_since = std::max(old_from, attack.touched - frames_in(stopped_within));
    for (FrameNumber n = attack.begin - 1; n > stopped_since; --n) {
        if (!sudden_fall(heard.history, heard.floor.in_band(), n, 2)) continue;
        old_until = attack.begin - attack_margin;
        old_from = std::min(n, old_until - attack_margin);
        break;
    }
    std::array<std::span<const float>, 3> before;
    SampleNumber end = old_until * frame_length_;
    for (auto& one : before) {
        const SampleNumber begin = std::max(old_from * frame_length_, end - stretch);
        one = heard.store.between(begin, end);
        end = std::min(begin, end);
    }
    return listener_.compare(after, before);
}

}  // namespace midspan
