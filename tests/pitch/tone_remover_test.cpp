// tone_remover_test.cpp: hum beside a partial, and the partial that stays.
//
// Room: tests/pitch.
#include "pitch/tone_remover.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <cstddef>

#include "pitch/given_pluck.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/string_fit.hpp"
#include "support/disturbances.hpp"
#include "support/plucked_string.hpp"

namespace midspan::test {
namespace {

PluckedString gliding_string_at(Hertz fundamental) {
    PluckedString string;
    string.fundamental = fundamental;
    string.glide = Cents{6.0};
    string.duration = Seconds{2.5};
    string.partials = 12;  // as many as are followed
    return string;
}

StringLaw law_of(const PluckedString& string) {
    StringLaw law;
    law.log_lowest = std::log(string.fundamental.value());
    law.inharmonicity = string.inharmonicity;
    return law;
}

/// A note's partials at rest, as they stand and with the mains taken out.
class SettledNote {
public:
    SettledNote(GivenPluck& given, const PluckedString& string) {
        raw_.follow(given.pluck().usable(), GivenPluck::sample_rate, string.fundamental);
        tracks.settle(raw_, law_of(string), 1);
    }

    void take_out(Hertz mains) {
        StringFit fit;
        fit.begin(tracks, tracks.length(), PartialTracks::most_heard);
        fit.run(tracks, tracks.length(), gliding, 20, closely);
        ToneRemover remover;
        for (std::size_t p = 0; p < fit.string().partials.size(); ++p) {
            remover.take_out(raw_, tracks, fit.string().partials[p].track, mains,
                             fit.left_over(tracks, p, false));
        }
    }

    PartialTracks tracks;

private:
    PartialTracks raw_;
};

double power_between(const PartialTracks& one, const PartialTracks& other) {
    double power = 0.0;
    for (std::size_t i = 0; i < one.tracks().size(); ++i) {
        const auto& mine = one.tracks()[i].values;
        const auto& its = other.tracks()[i].values;
        REQUIRE(one.tracks()[i].number == other.tracks()[i].number);
        for (std::size_t m = 0; m < mine.size(); ++m)
            power += std::norm(mine[m] - its[m]);
    }
    return power;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("hum beside the partials is taken out to less than a hundredth, and the partials stay") {
        const PluckedString string = gliding_string_at(Hertz{113.0});  // every multiple at least 2 Hz away
        GivenPluck clean{string};
        const SettledNote alone{clean, string};
        GivenPluck humming{string};
        add_hum(humming.sound, GivenPluck::sample_rate, Hertz{50.0}, 0.02, 20, 5);
        SettledNote note{humming, string};
        const double hum = power_between(note.tracks, alone.tracks);
        note.take_out(Hertz{50.0});
        CHECK(power_between(note.tracks, alone.tracks) < 0.01 * hum);
    }
    TEST_CASE("what turns against a partial as slowly as a beat stays in it") {
        const PluckedString string = gliding_string_at(Hertz{101.0});
        GivenPluck given{string};
        add_hum(given.sound, GivenPluck::sample_rate, Hertz{50.0}, 0.02, 2, 5);
        const SettledNote before{given, string};
        SettledNote after{given, string};
        after.take_out(Hertz{50.0});
        CHECK(after.tracks.tracks()[0].values == before.tracks.tracks()[0].values);
    }
    TEST_CASE("where no hum is none is taken out") {
        const PluckedString string = gliding_string_at(Hertz{110.0});
        GivenPluck clean{string};
        const SettledNote alone{clean, string};
        GivenPluck given{string};
        add_white_noise(given.sound, GivenPluck::sample_rate, Decibels{40.0}, GivenPluck::lead, 3);
        const SettledNote before{given, string};
        SettledNote after{given, string};
        after.take_out(Hertz{50.0});
        CHECK(power_between(after.tracks, before.tracks) < 0.2 * power_between(before.tracks, alone.tracks));
    }
}

}  // namespace midspan::test
