// neck_scene.cpp: the neck, its faults, and the player.
//
// Room: tools/make_test_audio.
#include "neck_scene.hpp"

#include <array>
#include <cmath>
#include <nlohmann/json.hpp>
#include <numbers>

#include "midspan/instrument/instrument.hpp"
#include "midspan/instrument/string_physics.hpp"
#include "support/disturbances.hpp"
#include "support/plucked_string.hpp"
#include "support/random_numbers.hpp"

namespace midspan::test {
namespace {

using namespace midspan::literals;
using Json = nlohmann::ordered_json;

constexpr std::string_view file = "neck.flac";
constexpr std::string_view gauges = "10,13,17,26w/13,36w/15,46w/17";
constexpr std::array frets{1, 2, 3, 5, 7, 9, 12, 15};
constexpr std::uint64_t seed = 6006;
constexpr Hertz sample_rate = 8000.0_hz;
constexpr Millimetres scale_length = 648.0_mm;
constexpr Millimetres action = 1.8_mm, nut_height = 0.5_mm, relief = 0.2_mm;
constexpr Cents scatter = 0.7_cents;  // of the hand
constexpr Seconds open_ring = 1.2_s, ring = 1.0_s, stopped = 0.15_s;

// The faults.
constexpr int short_saddle = 3;  // string
constexpr Millimetres saddle_too_near = 2.2_mm, nut_too_high = 0.35_mm;
constexpr int bad_fret = 9;
constexpr Millimetres fret_toward_bridge = 0.9_mm;

struct NeckOfOneString {
    StringMake make;
    StringLay lay;
    Hertz open;

    [[nodiscard]] Cents error(int fret) const {
        const FretPlace place{fret == bad_fret ? fret_toward_bridge : 0.0_mm, 0.0_mm};
        return fretted_error(make, lay, open, fret, place);
    }
};

NeckOfOneString neck_of(const InstrumentString& string, const StringGauge& gauge) {
    NeckOfOneString neck{string_make(gauge), StringLay{scale_length}, string.open_frequency};
    StringLay& lay = neck.lay;
    lay.nut_height = nut_height;
    lay.relief = relief;
    lay.finger_behind = 5.0_mm;
    lay.saddle_height = saddle_height_for(lay, action);
    for (int round = 0; round < 4; ++round) {
        const Cents off =
            fretted_error(neck.make, lay, neck.open, 12) - harmonic_above_open(neck.make, lay, neck.open);
        lay.saddle_setback = lay.saddle_setback + off.value() * std::numbers::ln2 / 1200.0 * scale_length;
    }
    if (string.number == short_saddle) lay.saddle_setback = lay.saddle_setback - saddle_too_near;
    lay.nut_height = nut_height + nut_too_high;
    return neck;
}

std::vector<StringGauge> gauges_of_strings() {
    std::vector<StringGauge> all;
    std::string_view left = gauges;
    while (!left.empty()) {
        const std::size_t comma = std::min(left.find(','), left.size());
        all.push_back(parse_gauge(left.substr(0, comma)).value());
        left.remove_prefix(std::min(comma + 1, left.size()));
    }
    return all;
}

double to_places(double value, int places) {
    const double scale = std::pow(10.0, places);
    return std::round(value * scale) / scale;
}

}  // namespace

PlayedNeck play_neck() {
    const Instrument guitar =
        make_instrument(standard_tuning, std::array{scale_length}, 440.0_hz, {}).value();
    const std::vector<StringGauge> strings = gauges_of_strings();
    RandomNumbers random{seed};
    Json plucks = Json::array();
    std::vector<double> sound(static_cast<std::size_t>(90.0 * sample_rate.value()));
    Seconds now = 0.5_s;
    for (int number = 6; number >= 1; --number) {
        const NeckOfOneString neck =
            neck_of(guitar.string(number), strings[static_cast<std::size_t>(number - 1)]);
        const double stiff = inharmonicity(neck.make, string_tension(neck.make, neck.lay, neck.open),
                                           scale_length, neck.lay.clamped_ends);
        const auto play = [&](int fret) {
            const Cents hand = fret == 0 ? 0.0_cents : random.normal() * scatter;
            const Cents error = fret == 0 ? 0.0_cents : neck.error(fret) + hand;
            PluckedString note;
            note.fundamental = raised(neck.open, Cents{100.0 * fret} + error);
            note.inharmonicity = stiff * std::exp2(fret / 6.0);
            note.pluck_position = random.uniform(0.16, 0.24);
            note.pickup_position = 0.13;
            note.glide = Cents{random.uniform(1.0, 5.0)};
            note.decay = Seconds{0.9 * std::exp2(-fret / 24.0)};
            note.second_plane = {Cents{random.uniform(-0.2, 0.2)}, random.uniform(0.05, 0.2),
                                 Seconds{0.7 * note.decay.value()}};
            note.amplitude = random.uniform(0.04, 0.05);
            note.duration = fret == 0 ? open_ring : ring;
            note.seed = seed * 1000 + plucks.size();
            add_pluck(sound, sample_rate, now, note);
            plucks.push_back({{"at_s", to_places(now.value(), 6)},
                              {"string", number},
                              {"fret", fret},
                              {"frequency_hz", to_places(note.fundamental.value(), 6)},
                              {"error_cents", to_places(error.value(), 4)}});
            now = now + note.duration + stopped;
        };
        play(0);
        for (const int fret : frets)
            play(fret);
        now = now + 0.3_s;
    }
    sound.resize(static_cast<std::size_t>((now + 0.3_s).value() * sample_rate.value()));
    add_white_noise(sound, 3e-5, seed + 1);

    PlayedNeck take{std::string{file}, sample_rate, {}, {}};
    for (const double x : sound)
        take.samples.push_back(static_cast<std::int16_t>(std::lround(32767.0 * x)));
    const Json truth{
        {"recording", file},
        {"story",
         "A guitar plucked along its neck, each string open and then at eight frets. Fret 9 lies too "
         "near the bridge, the saddle of string 3 too near the nut, the nut is too high."},
        {"seed", seed},
        {"sample_rate_hz", sample_rate.value()},
        {"tuning", standard_tuning},
        {"scale_length_mm", scale_length.value()},
        {"gauges", gauges},
        {"action_mm", action.value()},
        {"relief_mm", relief.value()},
        {"scatter_cents", scatter.value()},
        {"faults",
         {{{"cause", "fret"}, {"fret", bad_fret}, {"toward_bridge_mm", fret_toward_bridge.value()}},
          {{"cause", "saddle"}, {"string", short_saddle}, {"too_near_mm", saddle_too_near.value()}},
          {{"cause", "nut_height"}, {"too_high_mm", nut_too_high.value()}}}},
        {"plucks", plucks}};
    take.truth = truth.dump(2) + "\n";
    return take;
}

}  // namespace midspan::test
