// surest_reading_test.cpp: what is believed of a note while it rings.
#include "midspan/pitch/surest_reading.hpp"

#include <doctest/doctest.h>

#include "midspan/units.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

PitchReading reading(Hertz frequency, Cents uncertainty) {
    PitchReading result;
    result.frequency = frequency;
    result.uncertainty = uncertainty;
    return result;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("a surer look at a note is believed, whatever the one before said") {
        SurestReading note;
        CHECK(!note.believed().has_value());
        CHECK(note.look(reading(110.0_hz, 1.0_cents)).uncertainty == 1.0_cents);
        const Hertz far = raised(110.0_hz, 5.0_cents);
        CHECK(note.look(reading(far, 0.3_cents)).frequency == far);
        CHECK(note.believed()->uncertainty == 0.3_cents);
    }
    TEST_CASE("a look that is less sure and says the same changes nothing") {
        SurestReading note;
        note.look(reading(110.0_hz, 0.2_cents));
        const PitchReading& known = note.look(reading(raised(110.0_hz, -0.39_cents), 0.8_cents));
        CHECK(known.frequency == 110.0_hz);
        CHECK(known.uncertainty == 0.2_cents);
    }
    TEST_CASE("a look that says otherwise is believed, however unsure it is") {
        SurestReading note;
        note.look(reading(110.0_hz, 0.2_cents));
        const Hertz elsewhere = raised(110.0_hz, 0.41_cents);
        const PitchReading& known = note.look(reading(elsewhere, 0.8_cents));
        CHECK(known.frequency == elsewhere);
        CHECK(known.uncertainty == 0.8_cents);
    }
}

}  // namespace midspan::test
