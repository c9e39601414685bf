// coupled_fit_test.cpp: the motion of a plucked string in two planes, found again in the sound of a string
// that was made by another physics: finite differences, with nothing averaged.
#include "pitch/coupled_fit.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <span>
#include <vector>

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
    explicit HeardString(Cents detune) {
        StiffString string;
        string.ideal_fundamental = 165.0_hz;
        string.length = 324.0_mm;
        string.inharmonicity = 2e-4;
        string.second_plane = {detune, ratio, 0.7_s};
        string.pluck_height = 0.5_mm;
        string.pluck_position = 0.21;
        string.duration = 2.5_s;
        const StiffNote note = sound_of(string, sample_rate);
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
