// measurement_test.cpp: from samples to verdicts, on takes whose truth is known.
#include "midspan/measurement/measurement.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "support/disturbances.hpp"
#include "support/neck_string.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

Instrument six_strings() {
    const std::vector<Millimetres> length{648.0_mm};
    return make_instrument(standard_tuning, length, 440.0_hz, {}).value();
}

NeckString a_string(Cents error) {
    NeckString string;
    string.error = error;
    string.manner.glide = 5.0_cents;
    string.manner.decay = 0.8_s;
    return string;
}

Analysis analysed(std::span<const double> sound, Hertz rate, MeasurementOptions options = {},
                  std::size_t block_frames = 4096) {
    Measurement measurement{six_strings(), options};
    const std::vector<float> samples = floats(sound);
    measurement.begin_recording("take", {rate, 1}, std::nullopt);
    for (std::size_t at = 0; at < samples.size(); at += block_frames) {
        const std::size_t count = std::min(block_frames, samples.size() - at);
        measurement.feed({std::span{samples}.subspan(at, count), 1});
    }
    measurement.end_recording();
    return measurement.analysis();
}

bool warns(const AnalysedString& string, WarningCode code) {
    return std::find(string.warnings.begin(), string.warnings.end(), code) != string.warnings.end();
}

bool warns(const Analysis& analysis, WarningCode code) {
    return std::any_of(analysis.warnings.begin(), analysis.warnings.end(),
                       [&](const Warning& warning) { return warning.code == code; });
}

const AnalysedString& string_5(const Analysis& analysis) { return analysis.strings[4]; }

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("a take of one string gives back the error it was made with") {
        std::uint64_t seed = 0;
        for (const Cents error : {-12.0_cents, -0.4_cents, 0.0_cents, 3.1_cents, 18.0_cents}) {
            TakeOptions options;
            options.open_first = true;
            options.seed = ++seed;
            const Take take = take_of(a_string(error), options);
            const Analysis analysis = analysed(take.samples, take.sample_rate);
            const AnalysedString& string = string_5(analysis);
            CAPTURE(error.value());
            REQUIRE(string.comparison.has_value());
            CHECK(within(string.comparison->error.value, error, 0.1_cents));
            CHECK(string.verdict == (magnitude(error) < 1.5_cents ? Verdict::in_tolerance : Verdict::move));
            REQUIRE(string.tuning.has_value());
            CHECK(string.tuning->from_open);
            CHECK(within(string.tuning->off, 0.0_cents, 0.2_cents));
            CHECK(within(string.move->toward_tail, saddle_move({error, 0.1_cents}, 648.0_mm).toward_tail,
                         0.05_mm));
        }
    }
    TEST_CASE("every string is there, heard or not") {
        const Take take = take_of(a_string(2.0_cents));
        const Analysis analysis = analysed(take.samples, take.sample_rate);
        REQUIRE(analysis.strings.size() == 6);
        for (const AnalysedString& string : analysis.strings) {
            if (string.string.number == 5) continue;
            CHECK(warns(string, WarningCode::no_plucks));
            CHECK_FALSE(string.comparison.has_value());
            CHECK(string.verdict == Verdict::measure_again);
        }
    }
    TEST_CASE("swapped order is named and never turned into the opposite move") {
        NeckString string = a_string(6.0_cents);
        string.manner.odd_partials = -35.0_db;
        TakeOptions options;
        Take take = take_of(string, options);
        // Cut the first harmonic away: what is left begins with a fretted note.
        const double first = take.plucks[1].start.value() - 0.4;
        const auto from = static_cast<std::ptrdiff_t>(first * take.sample_rate.value());
        const std::vector<double> swapped(take.samples.begin() + from, take.samples.end());
        const Analysis analysis = analysed(swapped, take.sample_rate);
        CHECK(warns(string_5(analysis), WarningCode::order_contradicted));
        CHECK(string_5(analysis).verdict == Verdict::measure_again);
    }
}

TEST_SUITE("properties") {
    TEST_CASE("how the stream is cut into blocks changes nothing, to the last digit") {
        const Take take = take_of(a_string(3.0_cents));
        const Analysis once = analysed(take.samples, take.sample_rate, {}, take.samples.size());
        for (const std::size_t block : {64U, 1000U, 4801U}) {
            const Analysis again = analysed(take.samples, take.sample_rate, {}, block);
            REQUIRE(again.plucks.size() == once.plucks.size());
            CHECK(string_5(again).comparison->error.value == string_5(once).comparison->error.value);
            CHECK(string_5(again).comparison->error.uncertainty ==
                  string_5(once).comparison->error.uncertainty);
        }
    }
    TEST_CASE("the channel that carries the string is chosen, and a dead one is named") {
        const Take take = take_of(a_string(3.0_cents));
        const std::vector<float> mono = floats(take.samples);
        std::vector<float> stereo(2 * mono.size());
        for (std::size_t i = 0; i < mono.size(); ++i) {
            stereo[2 * i + 1] = mono[i];
        }
        Measurement measurement{six_strings(), {}};
        measurement.begin_recording("stereo", {take.sample_rate, 2}, std::nullopt);
        measurement.feed({stereo, 2});
        measurement.end_recording();
        const Analysis analysis = measurement.analysis();
        CHECK(analysis.recordings[0].channel_used == 2);
        CHECK(warns(analysis, WarningCode::dead_channel));
        CHECK(string_5(analysis).verdict == Verdict::move);
    }
    TEST_CASE("sample rates from 22 to 192 kHz agree") {
        for (const Hertz rate : {22050.0_hz, 44100.0_hz, 96000.0_hz, 192000.0_hz}) {
            TakeOptions options;
            options.sample_rate = rate;
            options.pairs = 1;
            options.ring = 2.0_s;
            const Take take = take_of(a_string(7.0_cents), options);
            const Analysis analysis = analysed(take.samples, rate);
            CAPTURE(rate.value());
            REQUIRE(string_5(analysis).comparison.has_value());
            CHECK(within(string_5(analysis).comparison->error.value, 7.0_cents, 0.1_cents));
        }
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("samples that are no numbers void their note and are named") {
        Take take = take_of(a_string(3.0_cents));
        const auto at = static_cast<std::size_t>((take.plucks[2].start.value() + 0.5) * 48000.0);
        take.samples[at] = std::numeric_limits<double>::quiet_NaN();
        const Analysis analysis = analysed(take.samples, take.sample_rate);
        CHECK(warns(analysis, WarningCode::not_finite));
        REQUIRE(string_5(analysis).comparison.has_value());
        CHECK(std::isfinite(string_5(analysis).comparison->error.value.value()));
        CHECK(within(string_5(analysis).comparison->error.value, 3.0_cents, 0.2_cents));
    }
    TEST_CASE("silence, noise and talk give no comparison and say why") {
        for (const int kind : {0, 1, 2}) {
            std::vector<double> sound(10 * 48000);
            if (kind == 1) add_white_noise(sound, 0.05, 1);
            if (kind == 2) add_talk(sound, 48000.0_hz, 0.5_s, 9.0_s, 0.3, 1);
            const Analysis analysis = analysed(sound, 48000.0_hz);
            CAPTURE(kind);
            for (const AnalysedString& string : analysis.strings) {
                CHECK_FALSE(string.comparison.has_value());
                CHECK_FALSE(string.warnings.empty());
            }
        }
    }
    TEST_CASE("a string far from its note is named before anything is advised") {
        NeckString string = a_string(8.0_cents);
        string.open = raised(110.0_hz, -80.0_cents);
        const Take take = take_of(string);
        const Analysis analysis = analysed(take.samples, take.sample_rate);
        CHECK(warns(string_5(analysis), WarningCode::out_of_tune));
        CHECK(string_5(analysis).verdict == Verdict::measure_again);
    }
    TEST_CASE("harmonics alone and open strings alone are said to be that") {
        NeckString string = a_string(0.0_cents);
        string.manner.odd_partials = -30.0_db;
        std::vector<double> harmonics(14 * 48000);
        std::vector<double> open(14 * 48000);
        for (const double at : {0.5, 4.0, 7.5}) {
            add_pluck(harmonics, 48000.0_hz, Seconds{at}, string.harmonic());
            add_pluck(open, 48000.0_hz, Seconds{at}, string.open_note());
        }
        add_white_noise(harmonics, 0.0003, 5);
        add_white_noise(open, 0.0003, 6);
        const Analysis only_harmonics = analysed(harmonics, 48000.0_hz);
        CHECK(string_5(only_harmonics).verdict == Verdict::measure_again);
        CHECK_FALSE(string_5(only_harmonics).warnings.empty());
        const Analysis only_open = analysed(open, 48000.0_hz);
        CHECK(warns(string_5(only_open), WarningCode::only_open));
        CHECK_FALSE(string_5(only_open).comparison.has_value());
    }
}

}  // namespace midspan::test
