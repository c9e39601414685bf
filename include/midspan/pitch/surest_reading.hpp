// surest_reading.hpp: what is best known of a note while it rings.
//
// Room: pitch. Pure. May include: ground.
#pragma once

#include <optional>

#include "midspan/pitch/pitch_reading.hpp"

namespace midspan {

/// Of readings of one note over growing spans, the one to believe.
///
/// A longer look is mostly surer. Now and then it is not: it has seen the note beat, or a noise fell into it.
/// What the shorter one said still holds as long as the longer one does not contradict it, so that what is
/// shown tightens; where they differ by more than two of the shorter one's uncertainties, the longer one is
/// believed, however unsure it is.
class SurestReading {
public:
    /// Takes in a longer look at the same note and returns what to believe now.
    const PitchReading& look(const PitchReading& longer);

    /// Nothing until the first look.
    [[nodiscard]] const std::optional<PitchReading>& believed() const { return believed_; }

private:
    std::optional<PitchReading> believed_;
};

}  // namespace midspan
