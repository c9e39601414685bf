// pluck.hpp: one pluck, cut out of the sound.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <cstddef>
#include <span>

#include "midspan/units.hpp"

namespace midspan {

/// What is wrong with a pluck, seen in its samples alone.
struct PluckFlaws {
    bool clipped = false;     ///< full-scale runs inside the usable span
    bool cut_off = false;     ///< the next pluck came while it still rang
    bool disturbed = false;   ///< another sound fell into it; the usable span avoids that
    bool not_finite = false;  ///< samples that are no numbers: void
    bool too_short = false;   ///< rang for less than 0.25 s: too short for a pitch
};

/// A pluck and the samples around it, brought to a rate of 11 to 16.5 kHz and free of DC.
///
/// samples       one channel, oldest first, from shortly before the attack; valid until the finder is fed
/// attack        index of the pluck itself
/// usable_begin  index where the attack's noise is over
/// usable_end    index behind the last sample that belongs to this pluck alone
struct Pluck {
    Seconds start;      ///< of the attack, since the start of the recording
    Hertz sample_rate;  ///< of `samples`
    std::span<const float> samples;
    std::size_t attack;
    std::size_t usable_begin;
    std::size_t usable_end;
    Decibels level;        ///< loudest 10 ms, RMS, against full scale
    Decibels noise_level;  ///< the same of the quiet before it
    PluckFlaws flaws;

    [[nodiscard]] std::span<const float> usable() const {
        return samples.subspan(usable_begin, usable_end - usable_begin);
    }
    /// How long after the attack the usable span begins.
    [[nodiscard]] Seconds settling() const {
        return Seconds{static_cast<double>(usable_begin - attack) / sample_rate.value()};
    }
    [[nodiscard]] Seconds usable_duration() const {
        return Seconds{static_cast<double>(usable_end - usable_begin) / sample_rate.value()};
    }
};

}  // namespace midspan
