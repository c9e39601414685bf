// coupled_fit_test.cpp: the motion of a plucked string in two planes, found again in the sound of a string
// that was made by another physics: finite differences, with nothing averaged.
#include "pitch/coupled_fit.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <span>
#include <vector>

#include "pitch/model_choice.hpp"
#include "pitch/partial_tracks.hpp"
#include "pitch/string_fit.hpp"
#include "support/allocations.hpp"
#include "support/disturbances.hpp"
#include "support/stiff_string.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

constexpr double cents_per_log = 1731.234049066756;  // 1200 / ln 2
constexpr Hertz sample_rate{12000.0};
constexpr Seconds settling{0.05};
constexpr double ratio = 0.3;  // of the pluck's heights in the two planes

/// A string that beats and glides, from 50 ms after the pluck on.
struct HeardString {
    explicit HeardString(Cents detune, Decibels snr = 100.0_db) {
        StiffString string;
        string.ideal_fundamental = 165.0_hz;
        string.length = 324.0_mm;
        string.inharmonicity = 2e-4;
        string.second_plane = {detune, ratio, 0.7_s};
        string.pluck_height = 0.5_mm;
        string.pluck_position = 0.21;
        string.duration = 2.5_s;
        StiffNote note = sound_of(string, sample_rate);
        add_white_noise(note.samples, sample_rate, snr, settling, 1);
        fundamental = note.fundamental;
        decay = note.modes[0].decay;
        const std::vector<float> all = floats(note.samples);
        const auto sound =
            std::span{all}.subspan(static_cast<std::size_t>(settling.value() * sample_rate.value()));
        raw.follow(sound, sample_rate, note.fundamental);
        fit.begin(raw, raw.length(), 5);
        fit.run(raw, raw.length(), gliding, 20, closely);
        tracks.settle(raw, StringLaw{fit.string().law}, 4);
        fit.restart(tracks, StringLaw{fit.string().law}, 8, tracks.length());
        fit.run(tracks, tracks.length(), gliding, 20, closely);
    }

    /// As if something moved one partial by so much.
    void move(int number, Cents by) {
        for (PartialTrack& track : tracks.tracks()) {
            if (track.number != number) continue;
            const double hertz = track.centre * by.value() / cents_per_log;
            for (std::size_t m = 0; m < track.values.size(); ++m)
                track.values[m] *= std::polar(1.0, 2.0 * std::numbers::pi * hertz * tracks.time(m));
        }
        fit.run(tracks, tracks.length(), gliding, 20, closely);
    }

    [[nodiscard]] double since_pluck() const { return settling.value() + tracks.first_middle(); }

    Hertz fundamental{0.0};
    Seconds decay{0.0};
    PartialTracks raw;
    PartialTracks tracks;
    StringFit fit;
};

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("planes that drive each other are found as they were made: split, pluck, losses and pitch") {
        CoupledFit coupled;
        for (const Cents detune : {-0.8_cents, 0.5_cents}) {
            CAPTURE(detune.value());
            HeardString heard{detune};
            const FoundString plain = heard.fit.string();
            REQUIRE(coupled.find(plain, plain, heard.tracks, heard.since_pluck()));
            const CoupledString& string = coupled.string();
            CAPTURE(cents_per_log * string.law.split);
            CAPTURE(string.angle);
            CAPTURE(string.places[0].first_decay);
            CAPTURE(string.explained().value());
            CHECK(std::abs(cents_per_log * string.law.split - detune.value()) < 0.03);
            // Least sure: how far off the plane it was plucked, and how loud that is heard, trade.
            CHECK(std::abs(string.angle - std::atan(ratio)) < 0.15);
            CHECK(std::abs(string.places[0].first_decay * heard.decay.value() - 1.0) < 0.05);
            CHECK(std::abs(cents_per_log * (string.law.log_lowest - std::log(heard.fundamental.value()))) <
                  0.02);
            CHECK(string.explained() > 60.0_db);
        }
    }
}

TEST_SUITE("properties") {
    TEST_CASE(
        "a string's own motion is believed where its partials keep to the law, not where one is moved") {
        ModelChoice choice;
        HeardString heard{1.2_cents, 50.0_db};
        choice.choose(heard.fit, heard.tracks, heard.since_pluck());
        CHECK(choice.coupled());
        HeardString astray{1.2_cents, 50.0_db};
        astray.move(3, 1.5_cents);
        const FoundString plain = astray.fit.string();
        choice.choose(astray.fit, astray.tracks, astray.since_pluck());
        CHECK(!choice.coupled());
        // Though it is found: the motion explains that string well, with one partial off the law.
        CoupledFit coupled;
        REQUIRE(coupled.find(plain, plain, astray.tracks, astray.since_pluck()));
        CHECK(coupled.string().explained() > 40.0_db);
        CHECK(cents_per_log * coupled.string().furthest_off_the_law() > 1.0);
    }
    TEST_CASE("a rival that leaves next to nothing is not run after") {
        HeardString heard{0.5_cents};
        const FoundString plain = heard.fit.string();
        FoundString rival = plain;
        CoupledFit coupled;
        // 70 dB less than one plane; in two the string explains 60 or more.
        for (FoundPartial& partial : rival.partials)
            partial.misfit -=
                std::log(1e7) * 2.0 / heard.tracks.overlap() * static_cast<double>(partial.length);
        CHECK(!coupled.find(plain, rival, heard.tracks, heard.since_pluck()));
    }
    TEST_CASE("to look for driven planes allocates nothing") {
        HeardString heard{0.5_cents};
        const FoundString plain = heard.fit.string();
        CoupledFit coupled;
        const std::size_t before = allocations_so_far();
        const bool found = coupled.find(plain, plain, heard.tracks, heard.since_pluck());
        const std::size_t afterwards = allocations_so_far();
        CHECK(found);
        CHECK(afterwards == before);
    }
    TEST_CASE("one partial alone, or a string without its first, cannot tell driven planes from dying ones") {
        HeardString heard{0.5_cents};
        CoupledFit coupled;
        FoundString alone = heard.fit.string();
        alone.partials.resize(1);
        CHECK(!coupled.find(alone, alone, heard.tracks, heard.since_pluck()));
        FoundString without_first = heard.fit.string();
        without_first.partials.erase(without_first.partials.begin());
        CHECK(!coupled.find(without_first, without_first, heard.tracks, heard.since_pluck()));
    }
}

}  // namespace midspan::test
