// scenes.cpp: the takes in test_audio/, all of them invented.
//
// Room: tools/make_test_audio.
#include "scene.hpp"

namespace midspan::test {
namespace {

using namespace midspan::literals;

const std::vector<std::string_view> move{"move"};
const std::vector<std::string_view> in_tolerance{"in_tolerance"};
const std::vector<std::string_view> measure_again{"measure_again"};
const std::vector<std::string_view> careful{"move", "measure_again"};

// Open-string B of a steel-string acoustic, medians measured by Bastas, Koutoupis, Kaliakatsos-Papakostas,
// Katsouros and Maragos (ICASSP 2022, trained model published with their code).
constexpr double stiff_e2 = 1.3742e-4;
constexpr double stiff_a2 = 9.3333e-5;
constexpr double stiff_d3 = 5.1418e-5;
constexpr double stiff_g3 = 2.9490e-5;
constexpr double stiff_b3 = 6.1118e-5;
constexpr double stiff_e4 = 2.2297e-5;

Scene six_strings() {
    return {
        .file = "six-strings.wav",
        .story =
            "A whole guitar in one take: each string open, then harmonic and fretted note three times. "
            "The second fretted note of string 4 dies and is plucked again.",
        .sample_rate = 48000.0_hz,
        .seed = 6001,
        .tuning = "E2,A2,D3,G3,B3,E4",
        .scale_length = 648.0_mm,
        .open_ring = 0.9_s,
        .ring = 1.9_s,
        .strings =
            {
                {.number = 6,
                 .open_note = "E2",
                 .off_pitch = 1.8_cents,
                 .inharmonicity = stiff_e2,
                 .error = 6.4_cents,
                 .decay = 1.30_s,
                 .acceptable_verdicts = move},
                {.number = 5,
                 .open_note = "A2",
                 .off_pitch = -2.1_cents,
                 .inharmonicity = stiff_a2,
                 .error = 0.3_cents,
                 .decay = 1.05_s,
                 .acceptable_verdicts = in_tolerance},
                {.number = 4,
                 .open_note = "D3",
                 .off_pitch = 0.6_cents,
                 .inharmonicity = stiff_d3,
                 .error = -4.1_cents,
                 .decay = 1.00_s,
                 .choked_fretted = 1,
                 .acceptable_verdicts = move},
                {.number = 3,
                 .open_note = "G3",
                 .off_pitch = -3.4_cents,
                 .inharmonicity = stiff_g3,
                 .error = 9.8_cents,
                 .decay = 0.90_s,
                 .acceptable_verdicts = move},
                {.number = 2,
                 .open_note = "B3",
                 .off_pitch = 2.7_cents,
                 .inharmonicity = stiff_b3,
                 .error = -0.4_cents,
                 .decay = 1.10_s,
                 .acceptable_verdicts = in_tolerance},
                {.number = 1,
                 .open_note = "E4",
                 .off_pitch = -0.9_cents,
                 .inharmonicity = stiff_e4,
                 .error = 3.2_cents,
                 .decay = 0.80_s,
                 .acceptable_verdicts = move},
            },
        .room = {.white_noise = 2e-4,
                 .coloured_noise = 2e-4,
                 .hum = 1e-3,
                 .thumps = 0.12,
                 .squeak_before = 5,
                 .sympathetic = Decibels{-52.0},
                 .odd_partials = Decibels{-38.0}},
        .expected_warnings = {WarningCode::dead_note},
    };
}

Scene after() {
    return {
        .file = "after.flac",
        .story =
            "The guitar of six-strings.wav with the saddles of strings 6, 4, 3 and 1 moved, those alone.",
        .sample_rate = 8000.0_hz,
        .seed = 6006,
        .tuning = "E2,A2,D3,G3,B3,E4",
        .scale_length = 648.0_mm,
        .open_first = false,
        .pairs = 2,
        .ring = 1.4_s,
        .scatter = 0.1_cents,
        .loudness = 0.04,
        .strings = {{.number = 6,
                     .open_note = "E2",
                     .off_pitch = 0.4_cents,
                     .inharmonicity = stiff_e2,
                     .error = 0.3_cents,
                     .decay = 1.30_s,
                     .acceptable_verdicts = in_tolerance},
                    {.number = 4,
                     .open_note = "D3",
                     .off_pitch = -0.3_cents,
                     .inharmonicity = stiff_d3,
                     .error = -0.5_cents,
                     .decay = 1.00_s,
                     .acceptable_verdicts = in_tolerance},
                    {.number = 3,
                     .open_note = "G3",
                     .off_pitch = 0.2_cents,
                     .inharmonicity = stiff_g3,
                     .error = 0.6_cents,
                     .decay = 1.00_s,
                     .acceptable_verdicts = in_tolerance},
                    {.number = 1,
                     .open_note = "E4",
                     .off_pitch = -0.6_cents,
                     .inharmonicity = stiff_e4,
                     .error = -0.2_cents,
                     .decay = 0.80_s,
                     .acceptable_verdicts = in_tolerance}},
        .room = {.white_noise = 3e-5},
    };
}

Scene low_e() {
    return {
        .file = "low-e.flac",
        .story = "One string alone, in a quiet room, left to ring.",
        .sample_rate = 24000.0_hz,
        .seed = 6002,
        .tuning = "E2",
        .scale_length = 628.65_mm,
        .open_ring = 2.0_s,
        .ring = 2.8_s,
        .strings = {{.number = 6,
                     .open_note = "E2",
                     .off_pitch = -1.2_cents,
                     .inharmonicity = stiff_e2,
                     .error = 3.7_cents,
                     .decay = 1.40_s,
                     .acceptable_verdicts = move}},
        .room = {.white_noise = 5e-5, .coloured_noise = 5e-5},
    };
}

Scene bass() {
    return {
        .file = "bass.flac",
        .story = "A four-string bass, two pairs a string.",
        .sample_rate = 8000.0_hz,
        .seed = 6003,
        .tuning = "E1,A1,D2,G2",
        .scale_length = 864.0_mm,
        .pairs = 2,
        .open_ring = 1.2_s,
        .ring = 2.4_s,
        // B of E1 from Kemp (SN Applied Sciences 2:636, 2020): 1.2385e-3 at the 12th fret, a quarter of it
        // open; the others are plausible, no source.
        .strings = {{.number = 4,
                     .open_note = "E1",
                     .off_pitch = 2.2_cents,
                     .inharmonicity = 3.1e-4,
                     .error = 7.6_cents,
                     .decay = 1.40_s,
                     .acceptable_verdicts = move},
                    {.number = 3,
                     .open_note = "A1",
                     .off_pitch = -1.5_cents,
                     .inharmonicity = 2.2e-4,
                     .error = -5.2_cents,
                     .decay = 1.30_s,
                     .acceptable_verdicts = move},
                    {.number = 2,
                     .open_note = "D2",
                     .off_pitch = 0.4_cents,
                     .inharmonicity = 1.5e-4,
                     .error = 0.2_cents,
                     .decay = 1.20_s,
                     .acceptable_verdicts = in_tolerance},
                    {.number = 1,
                     .open_note = "G2",
                     .off_pitch = 3.0_cents,
                     .inharmonicity = 1.0e-4,
                     .error = 4.4_cents,
                     .decay = 1.10_s,
                     .acceptable_verdicts = move}},
        .room = {.white_noise = 6e-5, .coloured_noise = 8e-5, .hum = 4e-4, .sympathetic = Decibels{-55.0}},
    };
}

Scene drop_d() {
    return {
        .file = "drop-d.flac",
        .story = "Drop D, sixth and fourth string only: the open fourth is the octave of the sixth.",
        .sample_rate = 8000.0_hz,
        .seed = 6004,
        .tuning = "D2,A2,D3,G3,B3,E4",
        .scale_length = 648.0_mm,
        .pairs = 2,
        .open_ring = 1.2_s,
        .ring = 2.2_s,
        .loudness = 0.3,
        .strings = {{.number = 6,
                     .open_note = "D2",
                     .off_pitch = 0.7_cents,
                     .inharmonicity = 1.72e-4,
                     .error = 5.3_cents,
                     .decay = 1.20_s,
                     .acceptable_verdicts = move},
                    {.number = 4,
                     .open_note = "D3",
                     .off_pitch = 1.9_cents,
                     .inharmonicity = stiff_d3,
                     .error = -4.6_cents,
                     .decay = 1.00_s,
                     .acceptable_verdicts = move}},
        .room = {.white_noise = 1e-4, .coloured_noise = 1e-4, .hum = 5e-4, .sympathetic = Decibels{-55.0}},
    };
}

Scene hard_take() {
    return {
        .file = "hard-take.flac",
        .story =
            "Recorded badly: talk at the start, noise, 60 Hz hum, a DC offset, a dead second channel. "
            "String 4 is played fretted note first, string 3 is 80 cents flat, the first harmonic of "
            "string 2 overloads the input.",
        .sample_rate = 12000.0_hz,
        .channels = 2,
        .seed = 6005,
        .tuning = "E2,A2,D3,G3,B3,E4",
        .scale_length = 648.0_mm,
        .open_first = false,
        .pairs = 2,
        .ring = 1.8_s,
        .strings =
            {
                {.number = 6,
                 .open_note = "E2",
                 .off_pitch = 2.5_cents,
                 .inharmonicity = stiff_e2,
                 .error = 6.5_cents,
                 .decay = 1.20_s,
                 .acceptable_verdicts = careful},
                {.number = 5,
                 .open_note = "A2",
                 .off_pitch = -4.0_cents,
                 .inharmonicity = stiff_a2,
                 .error = -5.8_cents,
                 .decay = 1.00_s,
                 .acceptable_verdicts = careful},
                {.number = 4,
                 .open_note = "D3",
                 .off_pitch = 1.3_cents,
                 .inharmonicity = stiff_d3,
                 .error = 8.0_cents,
                 .decay = 0.95_s,
                 .fretted_first = true,
                 .acceptable_verdicts = measure_again,
                 .expected_warnings = {WarningCode::order_contradicted}},
                {.number = 3,
                 .open_note = "G3",
                 .off_pitch = Cents{-80.0},
                 .inharmonicity = stiff_g3,
                 .error = 4.9_cents,
                 .decay = 0.90_s,
                 .acceptable_verdicts = careful,
                 .expected_warnings = {WarningCode::out_of_tune}},
                {.number = 2,
                 .open_note = "B3",
                 .off_pitch = -2.2_cents,
                 .inharmonicity = stiff_b3,
                 .error = 9.1_cents,
                 .decay = 1.00_s,
                 .clipped_harmonic = 0,
                 .acceptable_verdicts = careful,
                 .expected_warnings = {WarningCode::clipped}},
                {.number = 1,
                 .open_note = "E4",
                 .off_pitch = 0.5_cents,
                 .inharmonicity = stiff_e4,
                 .error = 0.1_cents,
                 .decay = 0.80_s,
                 .acceptable_verdicts = {"in_tolerance", "measure_again"}},
            },
        .room = {.white_noise = 1.2e-3,
                 .coloured_noise = 1e-3,
                 .mains = 60.0_hz,
                 .hum = 6e-3,
                 .hum_harmonics = 12,
                 .dc_offset = 0.03,
                 .talk = 2.0_s,
                 .thumps = 0.2,
                 .sympathetic = Decibels{-50.0},
                 .odd_partials = Decibels{-28.0}},
        .expected_warnings = {WarningCode::dead_channel, WarningCode::order_contradicted,
                              WarningCode::out_of_tune, WarningCode::clipped},
    };
}

}  // namespace

std::vector<Scene> all_scenes() { return {six_strings(), after(), low_e(), bass(), drop_d(), hard_take()}; }

}  // namespace midspan::test
