// pluck_finder_test.cpp: plucks in a workshop: what is one, when it begins, how far it can be trusted.
#include "midspan/notes/pluck_finder.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <vector>

#include "notes/found_plucks.hpp"
#include "support/disturbances.hpp"
#include "support/plucked_string.hpp"
#include "support/random_numbers.hpp"
#include "support/trials.hpp"
#include "support/within.hpp"

namespace midspan::test {
namespace {

using namespace midspan::literals;

constexpr Hertz rate{24000.0};

std::vector<double> quiet(Seconds duration, double noise = 1e-4) {
    std::vector<double> sound(static_cast<std::size_t>(duration.value() * rate.value()), 0.0);
    add_white_noise(sound, noise, 99);
    return sound;
}

PluckedString string_at(Hertz frequency, double amplitude = 0.3) {
    PluckedString string;
    string.fundamental = frequency;
    string.amplitude = amplitude;
    string.decay = 0.8_s;
    string.glide = 6.0_cents;
    string.duration = 10.0_s;
    return string;
}

PluckedString stopped_after(PluckedString string, Seconds duration) {
    string.duration = duration;
    return string;
}

void check_starts(const std::vector<FoundPluck>& found, const std::vector<Seconds>& expected) {
    REQUIRE(found.size() == expected.size());
    for (std::size_t i = 0; i < found.size(); ++i) {
        CAPTURE(expected[i].value());
        CHECK(within(found[i].start(), expected[i], 0.010_s));
    }
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("every note of a guitar is found, within 10 ms of its attack") {
        for (const Hertz open : {82.41_hz, 110.0_hz, 146.83_hz, 196.0_hz, 246.94_hz, 329.63_hz}) {
            for (const double factor : {1.0, 2.0, 4.0}) {
                std::vector<double> sound = quiet(4.0_s);
                add_pluck(sound, rate, 0.7_s, stopped_after(string_at(factor * open), 1.5_s));
                add_pluck(sound, rate, 2.5_s, string_at(factor * open));
                CAPTURE(open.value());
                CAPTURE(factor);
                check_starts(found_plucks(sound, rate), {0.7_s, 2.5_s});
            }
        }
    }
    TEST_CASE("and the open B of a bass, wherever it is plucked and heard, at 44.1 kHz too") {
        // Its partials lie closer together than a tenth of a second tells apart.
        constexpr Hertz phone{44100.0};
        RandomNumbers random{3};
        for (int i = 0; i < trials(40); ++i) {
            PluckedString string = string_at(Hertz{30.868 * std::exp2(random.uniform(-0.03, 0.03))}, 0.5);
            string.inharmonicity = 4.2e-4;
            string.partials = 60;
            string.pluck_position = random.uniform(0.1, 0.35);
            string.pickup_position = random.uniform(0.07, 0.3);
            string.loss_rise = random.uniform(0.003, 0.02);
            string.decay = Seconds{random.uniform(1.0, 3.0)};
            string.seed = static_cast<std::uint64_t>(i);
            std::vector<double> sound(static_cast<std::size_t>(2.5 * phone.value()));
            add_pluck(sound, phone, 0.5_s, string);
            add_white_noise(sound, phone, 50.0_db, 0.5_s, 7);
            CAPTURE(i);
            check_starts(found_plucks(sound, phone, 25.0_hz), {0.5_s});
        }
    }
    TEST_CASE("so is every note of a bass") {
        for (const Hertz open : {30.87_hz, 41.2_hz, 55.0_hz, 73.42_hz, 98.0_hz}) {
            for (const double factor : {1.0, 2.0}) {
                std::vector<double> sound = quiet(4.0_s);
                add_pluck(sound, rate, 0.7_s, stopped_after(string_at(factor * open), 1.5_s));
                add_pluck(sound, rate, 2.5_s, string_at(factor * open));
                CAPTURE(open.value());
                check_starts(found_plucks(sound, rate, 26.0_hz), {0.7_s, 2.5_s});
            }
        }
    }
    TEST_CASE("from 60 dB below full scale up to clipping") {
        for (const double amplitude : {0.001, 0.01, 0.1, 1.0, 3.0}) {
            std::vector<double> sound = quiet(3.0_s, 1e-5);
            add_pluck(sound, rate, 0.8_s, string_at(164.8_hz, amplitude));
            clip(sound, 1.0);
            CAPTURE(amplitude);
            check_starts(found_plucks(sound, rate), {0.8_s});
        }
    }
    TEST_CASE("a note in mains hum ten times as loud as it") {
        for (const Hertz mains : {50.0_hz, 60.0_hz}) {
            std::vector<double> sound = quiet(4.0_s, 1e-5);
            add_hum(sound, rate, mains, 0.01, 8, 5);
            add_pluck(sound, rate, 1.5_s, string_at(329.6_hz, 0.005));
            CAPTURE(mains.value());
            check_starts(found_plucks(sound, rate), {1.5_s});
        }
    }
    TEST_CASE("a string plucked again while it rings is a pluck of its own, louder or softer") {
        for (const double second : {0.15, 0.3, 0.5}) {
            std::vector<double> sound = quiet(4.0_s);
            add_pluck(sound, rate, 0.5_s, stopped_after(string_at(196.0_hz), 1.29_s));
            add_pluck(sound, rate, 1.8_s, string_at(196.0_hz, second));
            CAPTURE(second);
            const auto found = found_plucks(sound, rate);
            check_starts(found, {0.5_s, 1.8_s});
            CHECK(found[0].pluck.flaws.cut_off);
            CHECK(found[0].usable_until() < 1.8_s);
            CHECK(!found[1].pluck.flaws.cut_off);
        }
    }
    TEST_CASE("a string plucked while others ring on is a pluck of its own") {
        std::vector<double> sound = quiet(5.0_s);
        add_pluck(sound, rate, 0.5_s, string_at(82.41_hz));
        add_pluck(sound, rate, 1.5_s, string_at(329.63_hz, 0.15));
        add_pluck(sound, rate, 2.5_s, string_at(146.83_hz, 0.2));
        add_pluck(sound, rate, 3.5_s, string_at(164.81_hz, 0.2));  // the octave of the first
        check_starts(found_plucks(sound, rate), {0.5_s, 1.5_s, 2.5_s, 3.5_s});
    }
    TEST_CASE("beating planes swell and fade without making a second pluck or ending the note") {
        PluckedString string = string_at(220.0_hz);
        string.decay = 1.5_s;
        string.second_plane = {5.0_cents, 0.95, 1.5_s};
        std::vector<double> sound = quiet(6.0_s, 1e-5);
        add_pluck(sound, rate, 0.5_s, string);
        const auto found = found_plucks(sound, rate);
        check_starts(found, {0.5_s});
        CHECK(found[0].usable_until() > 5.5_s);
        CHECK(!found[0].pluck.flaws.disturbed);
    }
    TEST_CASE("a bright pickup, whose loudest partial lies at 2 kHz, hides no pluck") {
        PluckedString string = string_at(330.0_hz);
        string.partials = 6;
        string.roll_off = -1.5;
        string.loss_rise = 0.001;
        std::vector<double> sound = quiet(3.0_s);
        add_pluck(sound, rate, 0.7_s, string);
        check_starts(found_plucks(sound, rate), {0.7_s});
    }
    TEST_CASE("a string that loses most of its overtones at once has not been stopped") {
        PluckedString string = string_at(330.0_hz);
        string.roll_off = -0.5;
        string.loss_rise = 0.25;
        std::vector<double> sound = quiet(3.0_s, 1e-5);
        add_pluck(sound, rate, 0.7_s, string);
        const auto found = found_plucks(sound, rate);
        check_starts(found, {0.7_s});
        CHECK(found[0].usable_until() > 2.9_s);
    }
    TEST_CASE("a bass that goes on swelling for a fifth of a second is one pluck") {
        PluckedString string = string_at(98.0_hz);
        string.rise = 0.2_s;
        std::vector<double> sound = quiet(3.0_s, 1e-5);
        add_pluck(sound, rate, 0.7_s, string);
        const auto found = found_plucks(sound, rate, 26.0_hz);
        REQUIRE(found.size() == 1);
        CHECK(within(found[0].start(), 0.75_s, 0.06_s));
    }
    TEST_CASE(
        "the usable span begins behind the attack's noise and ends before the finger stops the string") {
        std::vector<double> sound = quiet(4.0_s);
        add_pluck(sound, rate, 0.5_s, stopped_after(string_at(196.0_hz), 2.0_s));
        const auto found = found_plucks(sound, rate);
        check_starts(found, {0.5_s});
        CHECK(found[0].pluck.settling() > 0.030_s);
        CHECK(found[0].pluck.settling() < 0.060_s);
        CHECK(found[0].usable_until() < 2.502_s);
        CHECK(found[0].usable_until() > 2.45_s);
    }
    TEST_CASE("behind three periods of the lowest note on a bass") {
        std::vector<double> sound = quiet(4.0_s);
        add_pluck(sound, rate, 0.5_s, string_at(41.2_hz));
        const auto found = found_plucks(sound, rate, 26.0_hz);
        check_starts(found, {0.5_s});
        CHECK(found[0].pluck.settling() >= Seconds{3.0 / 26.0 - 0.010});
    }
    TEST_CASE("a note is followed until it is lost in the noise, and no further") {
        // 0.3 falls below the noise in the second band, some 1e-4 / sqrt(10), after about 6.9 time constants.
        PluckedString string = string_at(330.0_hz);
        string.decay = 0.4_s;
        string.loss_rise = 0.0;
        std::vector<double> sound = quiet(8.0_s);
        add_pluck(sound, rate, 0.5_s, string);
        const auto found = found_plucks(sound, rate);
        check_starts(found, {0.5_s});
        CHECK(found[0].usable_until() > 2.7_s);
        CHECK(found[0].usable_until() < 4.5_s);
    }
    TEST_CASE("level and noise level are what they are") {
        std::vector<double> sound = quiet(3.0_s, 0.001);
        PluckedString string = string_at(440.0_hz, 0.2);
        string.partials = 1;
        string.attack_noise = -120.0_db;
        add_pluck(sound, rate, 1.0_s, string);
        const auto found = found_plucks(sound, rate);
        check_starts(found, {1.0_s});
        CHECK(within(found[0].pluck.level, Decibels{20.0 * std::log10(0.2 / std::sqrt(2.0))}, 0.5_db));
        // Half of the white noise's power lies below 6 kHz; the loudest 10 ms of it are a little above that.
        CHECK(within(found[0].pluck.noise_level, -62.5_db, 2.0_db));
    }
    TEST_CASE("a thump into a note neither splits it nor makes a second pluck, and is left out of its span") {
        for (const double amplitude : {0.2, 0.5, 1.0}) {
            for (const Seconds when : {1.2_s, 3.0_s}) {
                std::vector<double> sound = quiet(4.5_s);
                add_pluck(sound, rate, 0.5_s, string_at(146.83_hz));
                add_thump(sound, rate, when, amplitude, 3);
                CAPTURE(amplitude);
                CAPTURE(when.value());
                const auto found = found_plucks(sound, rate);
                check_starts(found, {0.5_s});
                CHECK(found[0].pluck.flaws.disturbed);
                const bool before = found[0].usable_until() <= when;
                const bool behind = found[0].usable_from() >= when + 0.05_s;
                CHECK((before || behind));
            }
        }
    }
    TEST_CASE("thumps, squeaks and clicks alone are no plucks") {
        std::vector<double> sound = quiet(6.0_s);
        add_pluck(sound, rate, 0.5_s, stopped_after(string_at(196.0_hz), 1.0_s));
        add_thump(sound, rate, 2.5_s, 0.3, 4);
        add_squeak(sound, rate, 3.5_s, 0.25_s, 0.2, 5);
        sound[static_cast<std::size_t>(4.5 * rate.value())] += 0.5;
        check_starts(found_plucks(sound, rate), {0.5_s});
    }
    TEST_CASE("a dead note is reported, and as too short for a pitch") {
        std::vector<double> sound = quiet(5.0_s);
        add_pluck(sound, rate, 0.5_s, stopped_after(string_at(196.0_hz), 1.0_s));
        add_pluck(sound, rate, 2.5_s, choked(string_at(196.0_hz)));
        add_pluck(sound, rate, 3.5_s, string_at(196.0_hz));
        const auto found = found_plucks(sound, rate);
        check_starts(found, {0.5_s, 2.5_s, 3.5_s});
        CHECK(!found[0].pluck.flaws.too_short);
        CHECK(found[1].pluck.flaws.too_short);
        CHECK(!found[2].pluck.flaws.too_short);
    }
    TEST_CASE("a string stopped after a sixth of a second is too short") {
        std::vector<double> sound = quiet(2.0_s);
        add_pluck(sound, rate, 0.5_s, stopped_after(string_at(196.0_hz), 0.15_s));
        const auto found = found_plucks(sound, rate);
        check_starts(found, {0.5_s});
        CHECK(found[0].pluck.flaws.too_short);
    }
    TEST_CASE("clipping counts inside the usable span, not when only the first moments clip") {
        for (const double amplitude : {0.5, 1.2, 6.0}) {
            std::vector<double> sound = quiet(3.0_s);
            add_pluck(sound, rate, 0.5_s, string_at(196.0_hz, amplitude));
            clip(sound, 1.0);
            CAPTURE(amplitude);
            const auto found = found_plucks(sound, rate);
            check_starts(found, {0.5_s});
            CHECK(found[0].pluck.flaws.clipped == (amplitude > 5.0));
        }
    }
    TEST_CASE("what rings is known 0.15 s after its attack, and its end 0.2 s after that") {
        std::vector<double> sound = quiet(4.0_s);
        add_pluck(sound, rate, 1.0_s, stopped_after(string_at(196.0_hz), 1.5_s));
        const std::vector<float> samples = floats(sound);
        PluckFinder finder{rate, guitar_lowest};
        std::optional<Seconds> first_seen;
        std::optional<Seconds> ended;
        Seconds span{0.0};
        constexpr std::size_t block = 120;  // 5 ms
        for (std::size_t n = 0; n + block <= samples.size(); n += block) {
            const Seconds now{static_cast<double>(n + block) / rate.value()};
            finder.feed(std::span{samples}.subspan(n, block), [&](const Pluck&) { ended = now; });
            if (const auto pluck = finder.ringing()) {
                if (!first_seen) first_seen = now;
                CHECK(within(pluck->start, 1.0_s, 0.010_s));
                if (!ended) span = pluck->usable_duration();
            }
        }
        REQUIRE(first_seen);
        CHECK(*first_seen <= 1.15_s);
        REQUIRE(ended);
        CHECK(*ended > 2.5_s);
        CHECK(*ended <= 2.7_s);
        CHECK(span > 1.3_s);
    }
    TEST_CASE("a pluck shows a fifth of a second of what was before it") {
        std::vector<double> sound = quiet(2.0_s);
        add_pluck(sound, rate, 0.7_s, string_at(196.0_hz));
        const auto found = found_plucks(sound, rate);
        check_starts(found, {0.7_s});
        const Pluck& pluck = found[0].pluck;
        CHECK(within(Seconds{static_cast<double>(pluck.attack) / pluck.sample_rate.value()}, 0.2_s, 0.001_s));
        CHECK(pluck.attack <= pluck.usable_begin);
        CHECK(pluck.usable_begin <= pluck.usable_end);
        CHECK(pluck.usable_end <= pluck.samples.size());
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a recording that begins with its pluck has it") {
        std::vector<double> sound = quiet(3.0_s);
        add_pluck(sound, rate, 0.0_s, string_at(196.0_hz));
        check_starts(found_plucks(sound, rate), {0.0_s});
    }
    TEST_CASE("the same plucks at every sample rate") {
        for (const Hertz other : {8000.0_hz, 22050.0_hz, 44100.0_hz, 48000.0_hz, 96000.0_hz, 192000.0_hz}) {
            std::vector<double> sound(static_cast<std::size_t>(3.0 * other.value()), 0.0);
            add_white_noise(sound, 1e-4, 1);
            add_pluck(sound, other, 0.5_s, stopped_after(string_at(164.8_hz), 1.0_s));
            add_pluck(sound, other, 1.7_s, string_at(164.8_hz));
            CAPTURE(other.value());
            check_starts(found_plucks(sound, other), {0.5_s, 1.7_s});
        }
    }
    TEST_CASE("how the stream is cut changes nothing, to the last bit") {
        std::vector<double> sound = quiet(4.0_s, 0.001);
        add_pluck(sound, rate, 0.5_s, stopped_after(string_at(110.0_hz), 1.0_s));
        add_thump(sound, rate, 1.1_s, 0.5, 8);
        add_pluck(sound, rate, 1.8_s, choked(string_at(110.0_hz)));
        add_pluck(sound, rate, 2.5_s, string_at(220.0_hz));
        const std::vector<float> samples = floats(sound);
        const auto whole = found_plucks(samples, rate, guitar_lowest, samples.size());
        REQUIRE(whole.size() == 3);
        RandomNumbers random{11};
        for (int trial = 0; trial < 10; ++trial) {
            std::vector<FoundPluck> cut;
            const auto keep = [&](const Pluck& pluck) { cut.emplace_back(pluck); };
            PluckFinder finder{rate, guitar_lowest};
            const double largest = trial < 5 ? 50.0 : 5000.0;
            for (std::size_t n = 0; n < samples.size();) {
                const auto count =
                    std::min(samples.size() - n, static_cast<std::size_t>(random.uniform(0.0, largest)));
                finder.feed(std::span{samples}.subspan(n, count), keep);
                n += count;
            }
            finder.finish(keep);
            REQUIRE(cut.size() == whole.size());
            for (std::size_t i = 0; i < cut.size(); ++i) {
                CHECK(cut[i].samples == whole[i].samples);
                CHECK(cut[i].start() == whole[i].start());
                CHECK(cut[i].pluck.attack == whole[i].pluck.attack);
                CHECK(cut[i].pluck.usable_begin == whole[i].pluck.usable_begin);
                CHECK(cut[i].pluck.usable_end == whole[i].pluck.usable_end);
                CHECK(cut[i].pluck.level == whole[i].pluck.level);
                CHECK(cut[i].pluck.noise_level == whole[i].pluck.noise_level);
            }
        }
    }
    TEST_CASE("the usable span begins as long after its pluck wherever the frames lie") {
        std::vector<double> sound = quiet(3.0_s);
        add_pluck(sound, rate, 0.5_s, string_at(110.0_hz));
        const auto usable_from = [&](std::size_t later) {
            std::vector<double> moved(later, 0.0);
            moved.insert(moved.end(), sound.begin(), sound.end());
            const auto found = found_plucks(moved, rate);
            REQUIRE(found.size() == 1);
            return found[0].usable_from() - Seconds{static_cast<double>(later) / rate.value()};
        };
        const Seconds unmoved = usable_from(0);
        for (std::size_t later = 7; later < 240; later += 17) {  // a frame is 120 samples long
            CAPTURE(later);
            CHECK(within(usable_from(later), unmoved, 0.0002_s));
        }
    }
    TEST_CASE("a constant offset changes nothing") {
        std::vector<double> sound = quiet(3.0_s);
        add_pluck(sound, rate, 0.7_s, string_at(196.0_hz));
        const auto without = found_plucks(sound, rate);
        add_dc_offset(sound, 0.2);
        const auto with = found_plucks(sound, rate);
        check_starts(with, {0.7_s});
        REQUIRE(without.size() == 1);
        CHECK(within(with[0].start(), without[0].start(), 0.001_s));
        CHECK(within(with[0].usable_until(), without[0].usable_until(), 0.02_s));
    }
    TEST_CASE("no note is kept for more than 10 s") {
        PluckedString string = string_at(110.0_hz);
        string.decay = 8.0_s;
        string.duration = 13.0_s;
        std::vector<double> sound = quiet(14.0_s, 1e-5);
        add_pluck(sound, rate, 0.5_s, string);
        const auto found = found_plucks(sound, rate);
        check_starts(found, {0.5_s});
        CHECK(found[0].usable_until() > 10.0_s);
        CHECK(found[0].usable_until() <= 10.51_s);
        CHECK(found[0].samples.size() <= static_cast<std::size_t>(10.3 * found[0].pluck.sample_rate.value()));
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("silence, noise, hum and a steady tone hold no pluck") {
        std::vector<double> silence(static_cast<std::size_t>(5.0 * rate.value()), 0.0);
        CHECK(found_plucks(silence, rate).empty());
        CHECK(found_plucks(quiet(10.0_s, 0.05), rate).empty());
        std::vector<double> hum = quiet(5.0_s);
        add_hum(hum, rate, 50.0_hz, 0.1, 10, 3);
        CHECK(found_plucks(hum, rate).empty());
        std::vector<double> tone = quiet(5.0_s);
        add_hum(tone, rate, 220.0_hz, 0.3, 1, 3);
        CHECK(found_plucks(tone, rate).empty());
    }
    TEST_CASE("talk makes few plucks: at most one in four syllables") {
        std::vector<double> sound = quiet(21.0_s, 1e-3);
        add_talk(sound, rate, 0.5_s, 20.0_s, 0.2, 17);
        CHECK(found_plucks(sound, rate).size() <= 20);
    }
    TEST_CASE("samples that are no numbers void the note they fall into and no other") {
        const float bad[] = {std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity(),
                             -std::numeric_limits<float>::infinity(), 3e38F};
        for (const float no_number : bad) {
            std::vector<double> sound = quiet(5.0_s);
            add_pluck(sound, rate, 0.5_s, stopped_after(string_at(196.0_hz), 1.5_s));
            add_pluck(sound, rate, 2.5_s, string_at(196.0_hz));
            std::vector<float> samples = floats(sound);
            samples[static_cast<std::size_t>(1.0 * rate.value())] = no_number;
            const auto found = found_plucks(samples, rate);
            check_starts(found, {0.5_s, 2.5_s});
            CHECK(found[0].pluck.flaws.not_finite);
            CHECK(!found[1].pluck.flaws.not_finite);
            for (const FoundPluck& pluck : found) {
                CHECK(std::all_of(pluck.samples.begin(), pluck.samples.end(),
                                  [](float sample) { return std::isfinite(sample); }));
            }
        }
    }
    TEST_CASE("nothing but samples that are no numbers is nothing") {
        const std::vector<float> samples(48000, std::numeric_limits<float>::quiet_NaN());
        CHECK(found_plucks(samples, rate).empty());
    }
    TEST_CASE("no samples, one sample, and a recording that ends in the attack do no harm") {
        CHECK(found_plucks(std::vector<float>{}, rate).empty());
        CHECK(found_plucks(std::vector<float>{0.5F}, rate).empty());
        std::vector<double> sound = quiet(2.0_s);
        add_pluck(sound, rate, 0.5_s, string_at(196.0_hz));
        const std::vector<float> samples = floats(sound);
        for (double end = 0.495; end < 0.8; end += 0.01) {
            const auto count = static_cast<std::size_t>(end * rate.value());
            const auto found = found_plucks(std::span{samples}.first(count), rate);
            CAPTURE(end);
            CHECK(found.size() <= 1);
            if (end > 0.62) CHECK(found.size() == 1);
            for (const FoundPluck& pluck : found) {
                CHECK(pluck.pluck.usable_end <= pluck.samples.size());
                if (end < 0.73) CHECK(pluck.pluck.flaws.too_short);
                if (end > 0.77) CHECK(!pluck.pluck.flaws.too_short);
            }
        }
    }
    TEST_CASE("a recording that begins in the middle of a note does no harm, wherever it begins and ends") {
        std::vector<double> sound = quiet(4.0_s);
        add_pluck(sound, rate, 0.3_s, stopped_after(string_at(110.0_hz), 0.9_s));
        add_pluck(sound, rate, 1.3_s, stopped_after(string_at(110.0_hz), 2.0_s));
        const std::vector<float> samples = floats(sound);
        for (double begin = 0.2; begin < 1.28; begin += 0.01) {
            const std::span cut = std::span{samples}.subspan(static_cast<std::size_t>(begin * rate.value()));
            const auto found = found_plucks(cut, rate);
            CAPTURE(begin);
            // The second pluck is whole, and found; what is left of the first may count as one or not.
            REQUIRE(!found.empty());
            CHECK(found.size() <= 2);
            CHECK(within(found.back().start(), 1.3_s - Seconds{begin}, 0.02_s));
        }
    }
}

}  // namespace midspan::test
