// ringing_note.hpp: follows a note from its attack to its end.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <optional>

#include "notes/frame_history.hpp"
#include "notes/noise_floor.hpp"

namespace midspan {

/// Frames from `begin` to before `end`.
struct FrameSpan {
    FrameNumber begin;
    FrameNumber end;
    [[nodiscard]] FrameNumber length() const { return end - begin; }
};

/// A note that rings. It ends when it is stopped by a finger, when it has faded into the noise, after 10 s,
/// or when the next pluck cuts it off.
///
/// A stop is known within 0.15 s. A fall that recovers within 60 ms was beating strings and no stop. What
/// sounds into the note is not part of it until the level is back to where it was.
class RingingNote {
public:
    /// settled  the first frame behind the attack's noise
    RingingNote(FrameNumber attack, FrameNumber settled, const NoiseFloor& floor);

    /// Goes on to the newest frame.
    void follow(const FrameHistory& history, const NoiseFloor& floor);

    /// A sound that is no pluck fell into it at `begin`.
    void disturb(const FrameHistory& history, FrameNumber begin);

    /// The next pluck, or the finger on its way to it, came at `frame`.
    void cut_off(FrameNumber frame);

    /// It was over before `frame`.
    void stop(FrameNumber frame) { end_ = frame; }

    [[nodiscard]] FrameNumber attack() const { return attack_; }
    [[nodiscard]] bool ended() const { return end_.has_value(); }
    [[nodiscard]] bool was_cut_off() const { return cut_off_; }
    [[nodiscard]] bool was_disturbed() const { return disturbed_; }

    /// It went on for a second without getting softer in any band: no string.
    [[nodiscard]] bool is_steady() const { return is_steady_; }
    /// Whether at frame `n` it is softer, in some band, than at its beginning.
    [[nodiscard]] bool decays(const FrameHistory& history, FrameNumber n) const;

    /// The longest stretch up to `now` in which it sounded alone; empty if there is none yet.
    [[nodiscard]] FrameSpan clean(FrameNumber now) const;

private:
    struct Disturbance {
        FrameNumber begin;
        BandValues before;
        std::optional<FrameNumber> back_since;  // since when it is as quiet as before
    };
    struct Fall {
        FrameNumber begin;
        FrameNumber seen;
        BandValues level;  // the lowest since
    };
    void follow_frame(const FrameHistory& history, FrameNumber n);
    void look_for_fall(const FrameHistory& history, FrameNumber n);
    void look_beyond_disturbance(const FrameHistory& history, FrameNumber n);

    FrameNumber attack_;
    FrameNumber settled_;
    BandValues quiet_;
    FrameNumber followed_to_;  // the next frame to look at
    FrameNumber last_heard_;   // the last frame that stood out of the quiet
    FrameNumber alone_since_;
    FrameSpan longest_;                       // of the clean stretches that are over
    std::optional<Disturbance> disturbance_;  // that is not over
    std::optional<Fall> fall_;                // that has to prove itself
    std::optional<FrameNumber> end_;
    bool is_steady_ = false;
    bool cut_off_ = false;
    bool disturbed_ = false;
};

}  // namespace midspan
