// attack.hpp: a moment at which it suddenly got louder, and what that may have been.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include "notes/frame_history.hpp"

namespace midspan {

/// A sudden rise that waits to be judged.
struct Attack {
    FrameNumber begin;    ///< the first frame that is louder
    FrameNumber touched;  ///< when the finger that plucked, or whatever it was, was first heard
    BandValues before;    ///< the loudest moment of each band shortly before
};

enum class Origin {
    pluck,
    dead_note,    ///< plucked, but no string rang
    disturbance,  ///< a thump, a squeak, talk
    nothing,      ///< that a ringing note would notice
};

}  // namespace midspan
