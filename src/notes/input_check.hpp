// input_check.hpp: samples that overloaded the input and samples that are no numbers, at the rate of the
// recording.
//
// Room: notes. Pure. May include: nothing.
#pragma once

#include <span>

namespace midspan {

/// What was found in a stretch of input.
struct InputFlaws {
    bool clipped = false;
    bool not_finite = false;
};

/// Looks at every sample before anything else does.
///
/// Clipped: three samples or more at or above 0.985 of full scale in a row, or a flat top (three equal
/// samples or more, at a tenth of full scale at least) at the same value as the flat top before it on that
/// side. Not finite: NaN, infinity, or beyond a million times full scale, which is no sound either.
class InputCheck {
public:
    /// Copies `samples` to `clean`, of the same size, with zeros for what is no number.
    InputFlaws copy_clean(std::span<const float> samples, std::span<float> clean);

private:
    float look_closer(float sample, InputFlaws& flaws);

    float previous_ = 0.0F;
    int loud_run_ = 0;
    int equal_run_ = 1;
    float flat_top_above_ = 0.0F;
    float flat_top_below_ = 0.0F;
};

}  // namespace midspan
