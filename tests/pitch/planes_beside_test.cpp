// planes_beside_test.cpp: the planes of a partial laid beside its track, against planes that are known.
//
// Room: tests/pitch.
#include "pitch/planes_beside.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <vector>

namespace midspan::test {
namespace {

using Complex = std::complex<double>;
constexpr double tau = 2.0 * std::numbers::pi;
constexpr double split = 3e-4;  // half a cent
constexpr std::array<Complex, 2> amplitudes{Complex{0.3, -0.4}, Complex{-0.1, 0.2}};
constexpr std::array<double, 2> decays{1.1, 2.7};

/// A partial whose track holds what two planes make of a law that glides.
struct KnownPlanes {
    KnownPlanes() {
        std::vector<float> samples(18'000);
        for (std::size_t i = 0; i < samples.size(); ++i)
            samples[i] = static_cast<float>(std::sin(tau * 220.0 * static_cast<double>(i) / 12'000.0));
        tracks.follow(samples, Hertz{12'000.0}, Hertz{220.0});
        law = tracks.guess();
        law.glide = 0.002;
        law.log_glide_time = -0.4;
        law.split = split;
        bases.lay_out(tracks, tracks.length());
        bases.set_log_glide_time(law.log_glide_time);
        partial.length = tracks.length() / 4 * 4 - 1;  // no multiple of four
        for (std::size_t plane = 0; plane < 2; ++plane)
            partial.planes[plane].decay = decays[plane];
        PartialTrack& track = tracks.tracks()[0];
        for (std::size_t m = 0; m < tracks.length(); ++m)
            track.values[m] = heard(0, m) + heard(1, m);
    }

    /// What is heard of a plane at value m: the law of a string in words of its own.
    [[nodiscard]] Complex heard(std::size_t plane, std::size_t m) const {
        const double t = tracks.time(m);
        const double early = tracks.window_spread() * (decays[0] + std::exp(-law.log_glide_time));
        const double turned = law.elapsed(t) - early * law.glide * law.faded(t);
        const double frequency = law.frequency(1);
        const double drifted = plane == 0 ? 0.0 : frequency * split * t;
        return amplitudes[plane] *
               std::polar(std::exp(-decays[plane] * t),
                          tau * (frequency * turned + drifted - tracks.tracks()[0].centre * t));
    }

    PartialTracks tracks;
    TimeBases bases;
    StringLaw law;
    FoundPartial partial;
    PlanesBeside beside;
};

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("two planes laid where they are leave nothing, at the amplitudes they have") {
        KnownPlanes known;
        const double squares = known.beside.lay(known.tracks, known.bases, known.law, known.partial, 2);
        CHECK(squares < 1e-9);  // the stiffness between the planes
        for (std::size_t plane = 0; plane < 2; ++plane) {
            CHECK(std::exp(known.partial.planes[plane].log_amplitude) ==
                  doctest::Approx(std::abs(amplitudes[plane])).epsilon(1e-3));
        }
        CHECK(known.beside.frequency() == doctest::Approx(known.law.frequency(1)));
        CHECK(known.beside.glide() == doctest::Approx(0.002));
    }

    TEST_CASE("with one plane what the other makes is left, as much of it as cannot be told from the first") {
        KnownPlanes known;
        const double squares = known.beside.lay(known.tracks, known.bases, known.law, known.partial, 1);
        const auto left = known.beside.left();
        REQUIRE(left.size() == known.partial.length);
        double power = 0.0;
        Complex along_first{};
        for (std::size_t m = 0; m < left.size(); ++m) {
            power += std::norm(left[m]);
            along_first += std::conj(known.heard(0, m)) * left[m];
        }
        CHECK(power == doctest::Approx(squares));
        CHECK(squares > 1e-3);
        CHECK(std::abs(along_first) < 1e-9);  // least squares leave nothing along what was fitted
    }

    TEST_CASE("of splits the true one leaves least") {
        KnownPlanes known;
        known.partial.planes[1].decay = known.partial.planes[0].decay;
        for (std::size_t m = 0; m < known.tracks.length(); ++m) {
            const double faster = std::exp((decays[1] - decays[0]) * known.tracks.time(m));
            known.tracks.tracks()[0].values[m] = known.heard(0, m) + faster * known.heard(1, m);
        }
        const std::array<double, 4> splits{-split, 0.5 * split, split, 2.0 * split};
        std::array<double, 4> squares{};
        known.beside.try_splits(known.tracks, known.bases, known.law, known.partial, splits, squares);
        CHECK(squares[2] < 1e-5);  // the stiffness between the planes
        for (const std::size_t other : {0U, 1U, 3U})
            CHECK(squares[other] > 5.0 * squares[2]);
    }
}

TEST_SUITE("properties") {
    TEST_CASE("sums of what planes have in common are those of the planes as they sound") {
        KnownPlanes known;
        known.law.split *= 1.3;  // so that something is left
        known.beside.lay(known.tracks, known.bases, known.law, known.partial, 2);
        const auto left = known.beside.left();
        // The planes as they were laid, from their own words.
        std::array<std::vector<Complex>, 2> planes;
        for (std::size_t m = 0; m < left.size(); ++m) {
            const double t = known.tracks.time(m);
            const double drifted = tau * known.law.frequency(1) * 0.3 * split * t;
            planes[0].push_back(known.heard(0, m) / amplitudes[0]);
            planes[1].push_back(known.heard(1, m) / amplitudes[1] * std::polar(1.0, drifted));
        }
        const PlanesBeside::InCommon sums = known.beside.in_common(known.bases);
        const std::array<double, 2> loud{std::exp(known.partial.planes[0].log_amplitude),
                                         std::exp(known.partial.planes[1].log_amplitude)};
        double first = 0.0, second = 0.0;
        Complex both{};
        std::array<Complex, 2> rest{};
        for (std::size_t m = 0; m < left.size(); ++m) {
            const auto& base = known.bases.at(m);
            const double pair = base[TimeBases::time] * base[TimeBases::ahead];
            first += pair * std::norm(loud[0] * planes[0][m]);
            second += pair * std::norm(loud[1] * planes[1][m]);
            both += pair * loud[0] * loud[1] * std::conj(planes[0][m]) * planes[1][m];
            for (std::size_t plane = 0; plane < 2; ++plane)
                rest[plane] += base[TimeBases::time] * loud[plane] * std::conj(planes[plane][m]) * left[m];
        }
        const std::size_t at = TimeBases::pair(TimeBases::time, TimeBases::ahead);
        CHECK(sums.first[at] == doctest::Approx(first));
        CHECK(sums.second[at] == doctest::Approx(second));
        // At what phases the planes were laid is not told: only sizes can be compared.
        CHECK(std::hypot(sums.even[at], sums.odd[at]) == doctest::Approx(std::abs(both)));
        for (std::size_t plane = 0; plane < 2; ++plane) {
            CHECK(std::hypot(sums.along[plane][TimeBases::time], sums.across[plane][TimeBases::time]) ==
                  doctest::Approx(std::abs(rest[plane])));
        }
    }
}

}  // namespace midspan::test
