// bench_page.hpp: the screen at the bench, composed line by line, to be read from a metre and more.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <string>
#include <vector>

#include "midspan/instrument/instrument.hpp"
#include "midspan/measurement/analysis.hpp"
#include "midspan/measurement/bench_event.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// How a line may stand out; never the only sign of anything.
enum class Tone { plain, strong, good, attention, faint };

struct PageLine {
    std::string text;  ///< at most as many columns as were asked for
    Tone tone = Tone::plain;
};

struct PageSize {
    int columns;
    int rows;
};
inline constexpr PageSize smallest_page{80, 24};

/// What stands on the screen, at most `size.rows` lines. In big characters the string to pluck and how, what
/// its saddle has to do, and the turns; below, in words, the error, the tuning and the earlier rounds; the
/// bridge from above with every saddle where it is and where it should be; what became of the last pluck, the
/// input level in its good range, and the keys.
///
/// Nothing moves on it but what an event changed, and there is no clock on it. Big characters grow with the
/// window. On a page below smallest_page there are only words.
///
/// analysis  of the same session
/// notice    something the source of the sound has to say; it stands where tuning and rounds stand
[[nodiscard]] std::vector<PageLine> bench_page(const BenchState& state, const Instrument& instrument,
                                               const Analysis& analysis, const std::string& notice,
                                               const Look& look, PageSize size);

}  // namespace midspan
