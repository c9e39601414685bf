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

// Found by trial on synthetic plucks of every kind and on thumps, squeaks, clicks and syllables.
constexpr float tone_clearly_risen = 6.0F;
constexpr float tonal_share = 0.28F;     // of what is new in the spectrum; three bins make one peak
constexpr float tone_of_attack = 0.02F;  // of what the attack added
constexpr float swelling = 1.9F;
constexpr float faintest_pluck = 3e-4F;      // of the usual level, -35 dB
constexpr float faintest_dead_note = 0.03F;  // -15 dB
constexpr float dead_above_floor = 30.0F;
constexpr float above_the_thumps = 0.3F;
constexpr float longer_than_a_click = 0.03F;
constexpr float gone = 0.1F;
constexpr float stands_out = 0.3F;

// How much each band is louder than it was before the attack, where that can be told.
BandValues louder(const BandValues& now, const BandValues& before) {
    BandValues more{};
    for (std::size_t band = 0; band < bands; ++band) {
        if (now[band] > 1.5F * before[band]) more[band] = now[band] - before[band];
    }
    return more;
}

}  // namespace

AttackJudge::AttackJudge(Hertz sample_rate, SampleNumber frame_length, Hertz lowest)
    : frame_length_{frame_length},
      attack_noise_{std::llround(attack_noise.value() * sample_rate.value())},
      listener_{sample_rate, lowest} {
    const SampleNumber needed = attack_noise_ + static_cast<SampleNumber>(listener_.stretch());
    judged_after_ = needed / frame_length_ + 2;
}

Origin AttackJudge::origin_of(const Attack& attack, const Heard& heard) {
    const FrameHistory& history = heard.history;
    const FrameNumber now = history.count();
    const auto levels = [&](FrameNumber first, FrameNumber last) {
        return history.mean(std::min(now - 1, attack.begin + first), std::min(now, attack.begin + last));
    };
    const BandValues struck = louder(levels(0, 4), attack.before);
    const float early = std::max(sum_of(struck), sum_of(louder(levels(4, 8), attack.before)));
    const float later = sum_of(louder(levels(14, 20), attack.before));
    const float level = history.loudest(attack.begin - 1, std::min(now, attack.begin + 6));
    const float usual = heard.usual_level.value_or(level);

    const std::optional<NewTone> tone = new_tone(attack, heard);
    if (tone) {
        const bool rings = tone->clearest > tone_clearly_risen && tone->power > tonal_share * tone->all_new &&
                           tone->power > tone_of_attack * early;
        const bool swells = later * tone->lasting > swelling * early;
        if (rings && !swells && level > faintest_pluck * usual) return Origin::pluck;
    }
    const float rang = sum_of(history.mean(attack.touched - 20, attack.touched - 16));
    const bool old_note_rings_on = heard.note_rings && sum_of(levels(14, 20)) > 0.2F * rang;
    const bool like_a_pluck =
        level > faintest_dead_note * usual && level > dead_above_floor * heard.floor.loudest() &&
        sum_of(struck) > sum_of(attack.before) && sum_of(struck, 1) > above_the_thumps * sum_of(struck) &&
        sum_of(levels(2, 4), 1) > longer_than_a_click * sum_of(levels(0, 2), 1);
    const bool died = !tone || later < gone * sum_of(struck);
    if (like_a_pluck && died && !old_note_rings_on) return Origin::dead_note;
    return early > stands_out * rang ? Origin::disturbance : Origin::nothing;
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
        old_from = std::min(n, attack.begin - 4);
        old_until = attack.begin - 1;
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
