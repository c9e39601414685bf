// hum_finder_test.cpp: the mains between the partials of a note.
//
// Room: tests/pitch.
#include "pitch/hum_finder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <optional>

#include "pitch/given_pluck.hpp"
#include "support/disturbances.hpp"
#include "support/plucked_string.hpp"
#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

PluckedString string_at(Hertz fundamental) {
    PluckedString string;
    string.fundamental = fundamental;
    string.duration = Seconds{2.0};
    return string;
}

std::optional<Hertz> hum_of(GivenPluck& given, const PluckedString& string) {
    StringLaw law;
    law.log_lowest = std::log(string.fundamental.value());
    law.inharmonicity = string.inharmonicity;
    HumFinder finder;
    return finder.find(given.pluck().usable(), GivenPluck::sample_rate, law);
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("mains are found to a hundredth of a percent, wherever in their band they are") {
        for (const double mains : {49.93, 50.0, 50.06, 59.92, 60.0, 60.07}) {
            CAPTURE(mains);
            const PluckedString string = string_at(Hertz{164.8});
            GivenPluck given{string};
            add_hum(given.sound, GivenPluck::sample_rate, Hertz{mains}, 0.003, 20, 5);
            const std::optional<Hertz> found = hum_of(given, string);
            REQUIRE(found);
            CHECK(std::abs(found->value() / mains - 1.0) < 1e-4);
        }
    }
    TEST_CASE("a string that sounds on a multiple of the mains is no hum, what lies beside it is") {
        // Every partial within the band of some multiple.
        const PluckedString string = string_at(Hertz{100.0});
        GivenPluck alone{string};
        add_white_noise(alone.sound, GivenPluck::sample_rate, Decibels{40.0}, GivenPluck::lead, 7);
        CHECK_FALSE(hum_of(alone, string));
        GivenPluck humming{string};
        add_hum(humming.sound, GivenPluck::sample_rate, Hertz{60.0}, 0.003, 20, 5);
        const std::optional<Hertz> found = hum_of(humming, string);
        REQUIRE(found);
        CHECK(found->value() == doctest::Approx(60.0).epsilon(1e-4));
    }
    TEST_CASE("neither noise nor the other strings that ring along are taken for the mains") {
        // E A D G B E in equal temperament at A = 440 Hz.
        constexpr std::array<double, 6> open{82.407, 110.0, 146.832, 195.998, 246.942, 329.628};
        RandomNumbers random{11};
        for (std::size_t i = 0; i < 60; ++i) {
            CAPTURE(i);
            const PluckedString string = string_at(Hertz{2.0 * open[i % 6]});
            GivenPluck given{string};
            for (std::size_t other = 0; other < 6; ++other) {
                if (other == i % 6) continue;
                PluckedString ringing =
                    string_at(raised(Hertz{open[other]}, Cents{random.uniform(-5.0, 5.0)}));
                ringing.amplitude = 0.02;
                add_pluck(given.sound, GivenPluck::sample_rate, GivenPluck::lead, ringing);
            }
            add_white_noise(given.sound, GivenPluck::sample_rate, Decibels{random.uniform(10.0, 60.0)},
                            GivenPluck::lead, i);
            CHECK_FALSE(hum_of(given, string));
        }
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("of silence and of a span too short to tell lines apart nothing is said") {
        const PluckedString string = string_at(Hertz{196.0});
        GivenPluck given{string};
        std::fill(given.sound.begin(), given.sound.end(), 0.0);
        CHECK_FALSE(hum_of(given, string));
        GivenPluck brief{string};
        add_hum(brief.sound, GivenPluck::sample_rate, Hertz{50.0}, 0.003, 20, 5);
        StringLaw law;
        law.log_lowest = std::log(196.0);
        HumFinder finder;
        CHECK_FALSE(finder.find(brief.pluck(Seconds{0.1}).usable(), GivenPluck::sample_rate, law));
    }
    TEST_CASE("a string that noise makes softer than none has partials all the way up") {
        PluckedString string = string_at(Hertz{31.0});
        string.inharmonicity = -2e-4;  // of its partials above the 70th there is no frequency
        GivenPluck given{string_at(Hertz{31.0})};
        CHECK_FALSE(hum_of(given, string));
    }
}

}  // namespace midspan::test
