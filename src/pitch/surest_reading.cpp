// surest_reading.cpp: what is best known of a note while it rings.
//
// Room: pitch. Pure. May include: ground.
#include "midspan/pitch/surest_reading.hpp"

#include "midspan/units.hpp"

namespace midspan {

const PitchReading& SurestReading::look(const PitchReading& longer) {
    const bool stands =
        believed_ && believed_->uncertainty < longer.uncertainty &&
        magnitude(interval(believed_->frequency, longer.frequency)) <= 2.0 * believed_->uncertainty;
    if (!stands) believed_ = longer;
    return *believed_;
}

}  // namespace midspan
