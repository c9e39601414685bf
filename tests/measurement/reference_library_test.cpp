// reference_library_test.cpp: the pitches of shipped takes beside those of a well-known library.
#include <aubio/aubio.h>
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <memory>
#include <numbers>
#include <span>
#include <string>
#include <vector>

#include "measurement/shipped_take.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

std::vector<float> mono_samples(const std::string& path) {
    Recording recording = Recording::open(path).value();
    REQUIRE(recording.format().channels == 1);
    std::vector<float> samples;
    for (;;) {
        const auto block = recording.next();
        REQUIRE(block.ok());
        if (block.value().frames() == 0) return samples;
        samples.insert(samples.end(), block.value().samples.begin(), block.value().samples.end());
    }
}

/// Up to a second from the middle of a note that is used, well away from its ends.
struct MiddleOfNote {
    const AnalysedPluck& pluck;
    std::span<const float> samples;
    Hertz rate;
    Seconds after_attack;  ///< to the middle of them

    /// How far the tension glide still is above the settled pitch there, f = f_1 (1 + g exp(-2 t / T)).
    [[nodiscard]] Cents glide() const {
        constexpr Seconds settling{0.05};  // the reading's glide counts from there
        return std::exp(-2.0 * ((after_attack - settling) / pluck.reading->glide_time)) *
               pluck.reading->glide;
    }
};

template <class Visit>
void for_each_note(const ShippedTake& take, Visit visit) {
    const std::vector<float> samples = mono_samples(take.path);
    const Hertz rate = take.analysis.recordings[0].sample_rate;
    const std::vector<AnalysedPluck>& plucks = take.analysis.plucks;
    int visited = 0;
    for (std::size_t i = 0; i < plucks.size(); ++i) {
        if (!plucks[i].used) continue;
        const Seconds end =
            i + 1 < plucks.size() ? plucks[i + 1].start : take.analysis.recordings[0].duration;
        const Seconds middle = 0.5 * (end - plucks[i].start);
        const Seconds half = std::min(Seconds{0.5}, 0.6 * middle);
        const auto from = static_cast<std::size_t>((plucks[i].start + middle - half).value() * rate.value());
        const auto count = static_cast<std::size_t>(2.0 * half.value() * rate.value());
        CAPTURE(take.path);
        CAPTURE(plucks[i].start.value());
        visit(MiddleOfNote{plucks[i], std::span{samples}.subspan(from, count), rate, middle});
        ++visited;
    }
    CHECK(visited > 5);
}

/// The median of the frames' pitches, as aubio hears them.
Hertz aubio_pitch(const char* method, const MiddleOfNote& note) {
    const auto window = static_cast<uint_t>(note.rate > 30'000.0_hz ? 8192 : 4096);  // 0.17 s
    const uint_t hop = window / 8;
    const std::unique_ptr<aubio_pitch_t, void (*)(aubio_pitch_t*)> pitch{
        new_aubio_pitch(method, window, hop, static_cast<uint_t>(note.rate.value())), del_aubio_pitch};
    REQUIRE(pitch);
    const std::unique_ptr<fvec_t, void (*)(fvec_t*)> in{new_fvec(hop), del_fvec};
    const std::unique_ptr<fvec_t, void (*)(fvec_t*)> out{new_fvec(1), del_fvec};
    aubio_pitch_set_unit(pitch.get(), "Hz");
    std::vector<double> frames;
    for (std::size_t at = 0; at + hop <= note.samples.size(); at += hop) {
        std::copy_n(note.samples.begin() + static_cast<std::ptrdiff_t>(at), hop, in->data);
        aubio_pitch_do(pitch.get(), in.get(), out.get());
        if (at + hop >= window) frames.push_back(static_cast<double>(out->data[0]));  // the window is full
    }
    REQUIRE(frames.size() > 3);
    const auto median = frames.begin() + static_cast<std::ptrdiff_t>(frames.size() / 2);
    std::nth_element(frames.begin(), median, frames.end());
    return Hertz{*median};
}

/// Power of the sound at a frequency, Hann window.
double power_at(const MiddleOfNote& note, Hertz frequency) {
    const double size = static_cast<double>(note.samples.size());
    double cosine = 0.0;
    double sine = 0.0;
    for (std::size_t n = 0; n < note.samples.size(); ++n) {
        const double turn = 2.0 * std::numbers::pi * static_cast<double>(n);
        const double weighted = (1.0 - std::cos(turn / size)) * static_cast<double>(note.samples[n]);
        cosine += weighted * std::cos(turn * (frequency / note.rate));
        sine += weighted * std::sin(turn * (frequency / note.rate));
    }
    return cosine * cosine + sine * sine;
}

/// How far above the lowest partial the period lies that makes a stretched sound most like itself one period
/// later: where the difference function is smallest,
///
///     d(tau) = sum a_k^2 (1 - cos 2 pi f_k tau),    f_k = k f_0 sqrt(1 + B k^2)
Cents stretch_heard(const MiddleOfNote& note) {
    struct Partial {
        Hertz frequency;
        double power;
    };
    const PitchReading& reading = *note.pluck.reading;
    const double B = reading.inharmonicity;
    const Hertz lowest = raised(reading.frequency, note.glide());
    std::vector<Partial> partials;
    for (int k = 1; k <= 20; ++k) {
        const Hertz frequency = k * std::sqrt((1.0 + B * k * k) / (1.0 + B)) * lowest;
        if (frequency > 0.45 * note.rate) break;
        partials.push_back({frequency, power_at(note, frequency)});
    }
    const auto difference = [&](Cents above) {
        double sum = 0.0;
        for (const Partial& partial : partials) {
            const double turns = partial.frequency / raised(lowest, above);
            sum += partial.power * (1.0 - std::cos(2.0 * std::numbers::pi * turns));
        }
        return sum;
    };
    Cents best = 0.0_cents;
    for (int hundredths = 0; hundredths <= 3000; ++hundredths) {
        const Cents above{0.01 * hundredths};
        if (difference(above) < difference(best)) best = above;
    }
    return best;
}

}  // namespace

TEST_SUITE("published") {
    // aubio 0.4.9, library by P. Brossier. Its method mcomb (J. P. Bello, 2003, as aubio's pitch.h says)
    // reads one partial's phase from frame to frame, so stiffness does not bias it, but it hears the note as
    // it glides: the settled pitch is raised by the glide left in the middle of the note. Half a cent is what
    // is left of gliding within a frame and of mains hum at the open low strings.
    TEST_CASE("aubio 0.4.9, mcomb: agrees with every note of two takes within half a cent") {
        for (const std::string_view name : {"six-strings", "low-e"}) {
            for_each_note(shipped_take(name), [](const MiddleOfNote& note) {
                const Hertz expected = raised(note.pluck.reading->frequency, note.glide());
                const Cents off = interval(expected, aubio_pitch("mcomb", note));
                CAPTURE(off.value());
                CHECK(within(off, 0.0_cents, 0.5_cents));
            });
        }
    }
    // aubio 0.4.9, yinfast: YIN of de Cheveigne and Kawahara, J. Acoust. Soc. Am. 111, 1917 (2002), as
    // aubio's pitch.h says. It knows no stiffness, and its reading is 1 to 9 cents sharp here; the measured B
    // says by how much.
    TEST_CASE("aubio 0.4.9, YIN: sharp on every note, by what the measured inharmonicity predicts") {
        for (const std::string_view name : {"six-strings", "low-e"}) {
            for_each_note(shipped_take(name), [](const MiddleOfNote& note) {
                const Hertz sounding = raised(note.pluck.reading->frequency, note.glide());
                const Cents sharp = interval(sounding, aubio_pitch("yinfast", note));
                const Cents predicted = stretch_heard(note);
                CAPTURE(sharp.value());
                CAPTURE(predicted.value());
                CHECK(sharp > 0.0_cents);
                CHECK(within(sharp, predicted, 1.0_cents));
            });
        }
    }
}

}  // namespace midspan::test
