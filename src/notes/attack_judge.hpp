// attack_judge.hpp: tells a pluck from everything else that is sudden.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <optional>

#include "midspan/units.hpp"
#include "notes/attack.hpp"
#include "notes/frame_history.hpp"
#include "notes/noise_floor.hpp"
#include "notes/sample_store.hpp"
#include "notes/tone_listener.hpp"

namespace midspan {

/// What is known when an attack is judged.
struct Heard {
    const FrameHistory& history;
    const SampleStore& store;
    const NoiseFloor& floor;
    FrameNumber quiet_since;           ///< when the note before was stopped
    bool note_rings;                   ///< whether another note rang until the attack
    std::optional<float> usual_level;  ///< of the plucks so far, mean square
};

/// The order of its questions: does a tone ring that did not ring before, and does it not swell as a voice
/// does? A pluck. Was it as loud as plucks are, above the thumps in pitch, and gone at once? A dead note. Did
/// it stand out of the note that rings? A disturbance.
class AttackJudge {
public:
    AttackJudge(Hertz sample_rate, SampleNumber frame_length, Hertz lowest);

    /// An attack can be judged so many frames after its begin: 115 ms for a guitar, 130 for a bass.
    [[nodiscard]] FrameNumber judged_after() const { return judged_after_; }

    /// Earlier than that only when the recording ends.
    [[nodiscard]] Origin origin_of(const Attack& attack, const Heard& heard);

private:
    [[nodiscard]] std::optional<NewTone> new_tone(const Attack& attack, const Heard& heard);

    SampleNumber frame_length_;
    SampleNumber attack_noise_;  // in samples
    ToneListener listener_;
    float swelling_;  // how much louder a string may grow while it is listened to
    FrameNumber judged_after_;
};

}  // namespace midspan
