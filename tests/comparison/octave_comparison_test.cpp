// octave_comparison_test.cpp: the error of a string, and how far it may be believed.
#include "midspan/comparison/octave_comparison.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <initializer_list>
#include <vector>

#include "support/random_numbers.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

constexpr FrettingScatter nothing_known{0.0_cents, 0.0};

/// A reading that lies `above` an octave of A2, with a stated fit uncertainty.
PitchReading reading(Cents above, Cents fit) {
    PitchReading r;
    r.frequency = raised(220.0_hz, above);
    r.uncertainty = fit;
    return r;
}

std::vector<PitchReading> readings(std::initializer_list<double> cents, Cents fit = 0.01_cents) {
    std::vector<PitchReading> all;
    for (const double above : cents) {
        all.push_back(reading(Cents{above}, fit));
    }
    return all;
}

/// How one hand plucks and frets, and how long its notes ring.
struct Hand {
    double fretting = 0.6;    ///< standard deviation between fretted notes, cents
    double drift = 0.0;       ///< from note to note, cents
    double fit = 0.02;        ///< of every note, cents; stated truly
    double true_error = 3.0;  ///< cents
};

struct Played {
    std::vector<PitchReading> harmonics;
    std::vector<PitchReading> fretted;
};

Played played(const Hand& hand, int pairs, PluckOrder order, RandomNumbers& random) {
    Played notes;
    for (int i = 0; i < pairs; ++i) {
        const bool alternate = order == PluckOrder::alternate;
        const double h_place = alternate ? 2 * i : i;
        const double f_place = alternate ? 2 * i + 1 : pairs + i;
        notes.harmonics.push_back(
            reading(Cents{hand.drift * h_place + hand.fit * random.normal()}, Cents{hand.fit}));
        notes.fretted.push_back(reading(Cents{hand.true_error + hand.drift * f_place +
                                              hand.fretting * random.normal() + hand.fit * random.normal()},
                                        Cents{hand.fit}));
    }
    return notes;
}

FrettingScatter others_of(const Hand& hand, int strings, int pairs, RandomNumbers& random) {
    double squares = 0.0;
    double degrees = 0.0;
    for (int s = 0; s < strings; ++s) {
        const Played notes = played(hand, pairs, PluckOrder::alternate, random);
        const auto scatter = fretting_scatter(notes.harmonics, notes.fretted, PluckOrder::alternate);
        squares += scatter->degrees_of_freedom * std::pow(scatter->standard_deviation.value(), 2);
        degrees += scatter->degrees_of_freedom;
    }
    return {Cents{std::sqrt(squares / degrees)}, degrees};
}

/// How often the truth lies within two stated standard uncertainties.
double coverage(const Hand& hand, int pairs, PluckOrder order, int other_strings) {
    RandomNumbers random{static_cast<std::uint64_t>(101 * pairs + other_strings)};
    constexpr int trials = 4000;
    int inside = 0;
    for (int i = 0; i < trials; ++i) {
        const Played notes = played(hand, pairs, order, random);
        const FrettingScatter others =
            other_strings > 0 ? others_of(hand, other_strings, pairs, random) : nothing_known;
        const auto c = compare_octave(notes.harmonics, notes.fretted, order, others);
        if (within(c.error.value, Cents{hand.true_error}, 2.0 * c.error.uncertainty)) ++inside;
    }
    return static_cast<double>(inside) / trials;
}

double share_scattered(const Hand& hand, const Hand& other_hand, int pairs) {
    RandomNumbers random{7};
    constexpr int trials = 2000;
    int called = 0;
    for (int i = 0; i < trials; ++i) {
        const Played notes = played(hand, pairs, PluckOrder::alternate, random);
        const FrettingScatter others = others_of(other_hand, 5, pairs, random);
        if (compare_octave(notes.harmonics, notes.fretted, PluckOrder::alternate, others).scattered) ++called;
    }
    return static_cast<double>(called) / trials;
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("the error is fretted minus harmonic, positive when the fretted note is sharp") {
        for (const PluckOrder order : {PluckOrder::alternate, PluckOrder::grouped}) {
            const auto sharp =
                compare_octave(readings({0.0, 0.2, 0.1}), readings({2.0, 2.4, 2.2}), order, nothing_known);
            CHECK(within(sharp.error.value, 2.1_cents, 1e-9_cents));
            CHECK(within(sharp.harmonic.value, raised(220.0_hz, 0.1_cents), 1e-9_hz));
            CHECK(within(sharp.fretted.value, raised(220.0_hz, 2.2_cents), 1e-9_hz));
            CHECK(sharp.harmonics == 3);
            CHECK(sharp.fretted_notes == 3);
            const auto flat =
                compare_octave(readings({2.0, 2.4, 2.2}), readings({0.0, 0.2, 0.1}), order, nothing_known);
            CHECK(within(flat.error.value, -2.1_cents, 1e-9_cents));
        }
    }
    TEST_CASE("alternate plucks halve a steady drift of the string, and it does not count as scatter") {
        // A string that warms by half a cent from note to note: each pair sees one step of it.
        Hand warming{0.0, -0.5, 0.0, 3.0};
        RandomNumbers random{1};
        const Played alternate = played(warming, 3, PluckOrder::alternate, random);
        const auto a =
            compare_octave(alternate.harmonics, alternate.fretted, PluckOrder::alternate, nothing_known);
        CHECK(within(a.error.value, 2.5_cents, 1e-9_cents));
        CHECK(within(a.scatter, 0.0_cents, 1e-9_cents));
        const Played grouped = played(warming, 3, PluckOrder::grouped, random);
        const auto g = compare_octave(grouped.harmonics, grouped.fretted, PluckOrder::grouped, nothing_known);
        CHECK(within(g.error.value, 1.5_cents, 1e-9_cents));
        CHECK(g.error.uncertainty > a.error.uncertainty);
    }
    TEST_CASE(
        "two standard uncertainties hold 95.45 % of truths, from one pair of many strings or many of one") {
        // 4,000 trials: the share itself is good to 0.7 % at two standard deviations.
        for (const int pairs : {2, 3, 4, 6}) {
            CAPTURE(pairs);
            for (const PluckOrder order : {PluckOrder::alternate, PluckOrder::grouped}) {
                const double alone = coverage({}, pairs, order, 0);
                CHECK(alone >= 0.945);
                CHECK(alone <= 0.99);
                const double with_others = coverage({}, pairs, order, 5);
                CHECK(with_others >= 0.945);
                CHECK(with_others <= 0.985);
            }
        }
    }
    TEST_CASE("where the fit is the larger part, the truth is still held at least as often") {
        for (const int pairs : {1, 2, 3, 6}) {
            CAPTURE(pairs);
            const Hand noisy{0.1, 0.0, 1.0, 3.0};
            CHECK(coverage(noisy, pairs, PluckOrder::alternate, 0) >= 0.945);
            if (pairs > 1) CHECK(coverage(noisy, pairs, PluckOrder::grouped, 0) >= 0.945);
        }
    }
    TEST_CASE("one note that hardly tells its pitch does not spoil what the others tell") {
        // Of three fretted notes one beats: its pitch is known to a cent, that of the others to 0.05.
        RandomNumbers random{5};
        constexpr int trials = 4000;
        for (const PluckOrder order : {PluckOrder::alternate, PluckOrder::grouped}) {
            int inside = 0;
            double squares = 0.0;
            double plain_squares = 0.0;
            double stated = 0.0;
            for (int i = 0; i < trials; ++i) {
                const Hand hand{0.2, 0.0, 0.05, 3.0};
                Played notes = played(hand, 3, order, random);
                PitchReading& beating = notes.fretted[static_cast<std::size_t>(i) % 3];
                beating = reading(Cents{3.0 + 0.2 * random.normal() + 1.0 * random.normal()}, 1.0_cents);
                const auto c = compare_octave(notes.harmonics, notes.fretted, order, {0.2_cents, 10.0});
                if (within(c.error.value, 3.0_cents, 2.0 * c.error.uncertainty)) ++inside;
                squares += std::pow(c.error.value.value() - 3.0, 2);
                stated += std::pow(c.error.uncertainty.value(), 2);
                double plain = 0.0;
                for (std::size_t k = 0; k < 3; ++k)
                    plain += interval(notes.harmonics[k].frequency, notes.fretted[k].frequency).value() / 3.0;
                plain_squares += std::pow(plain - 3.0, 2);
            }
            CHECK(squares < 0.3 * plain_squares);
            CHECK(stated < 0.5 * plain_squares);
            CHECK(inside >= 0.945 * trials);
        }
    }
    TEST_CASE("an ordinary hand is called scattered in less than 1 % of strings, a wild string mostly") {
        const Hand steady{0.4, 0.0, 0.02, 3.0};
        const Hand wild{2.5, 0.0, 0.02, 3.0};
        CHECK(share_scattered(steady, steady, 3) < 0.01);
        CHECK(share_scattered(wild, steady, 3) > 0.6);
    }
}

TEST_SUITE("published") {
    // JCGM 100:2008 (GUM), 4.2.3, G.3 and table G.2: s / sqrt(n), widened by t for n - 1.
    TEST_CASE("GUM 4.2: three errors of 1, 2 and 3 cents alone are 2 cents, give or take 4.53 / sqrt(3)") {
        const auto c = compare_octave(readings({0.0, 0.0, 0.0}), readings({1.0, 2.0, 3.0}),
                                      PluckOrder::alternate, nothing_known);
        CHECK(within(c.error.value, 2.0_cents, 1e-9_cents));
        CHECK(within(c.scatter, 1.0_cents, 1e-9_cents));
        CHECK(within(2.0 * c.error.uncertainty, Cents{4.53 / std::sqrt(3.0)}, 0.005_cents));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("with one pair and no other string a cent of scatter is assumed") {
        const auto c = compare_octave(readings({0.0}), readings({2.0}), PluckOrder::alternate, nothing_known);
        CHECK(within(c.error.uncertainty, 1.0_cents, 0.001_cents));
        CHECK(within(c.scatter, 0.0_cents, 0.0_cents));
        CHECK_FALSE(c.scattered);
        CHECK_FALSE(fretting_scatter(readings({0.0}), readings({2.0}), PluckOrder::alternate).has_value());
        CHECK_FALSE(fretting_scatter(readings({0.0}), readings({2.0}), PluckOrder::grouped).has_value());
    }
    TEST_CASE("with one pair the scatter of the other strings stands in") {
        const auto steady =
            compare_octave(readings({0.0}), readings({2.0}), PluckOrder::alternate, {0.2_cents, 10.0});
        const auto unsteady =
            compare_octave(readings({0.0}), readings({2.0}), PluckOrder::alternate, {0.8_cents, 10.0});
        // What others did is trusted like four repeats of one's own: t = 2.87.
        CHECK(within(steady.error.uncertainty, Cents{0.2 * 2.87 / 2.0}, 0.005_cents));
        CHECK(within(unsteady.error.uncertainty, Cents{0.8 * 2.87 / 2.0}, 0.005_cents));
    }
    TEST_CASE("pairs that agree by chance do not make a string surer than its fits") {
        for (const PluckOrder order : {PluckOrder::alternate, PluckOrder::grouped}) {
            const auto c = compare_octave(readings({0.0, 0.0, 0.0}, 0.3_cents),
                                          readings({2.0, 2.0, 2.0}, 0.4_cents), order, nothing_known);
            CHECK(c.error.uncertainty >= Cents{0.5 / std::sqrt(3.0) - 1e-9});
            CHECK(c.harmonic_uncertainty >= Cents{0.3 / std::sqrt(3.0) - 1e-9});
            CHECK(c.fretted_uncertainty >= Cents{0.4 / std::sqrt(3.0) - 1e-9});
        }
    }
    TEST_CASE("the scatter of fretting is what the fits do not explain") {
        const auto none = fretting_scatter(readings({0.0, 0.1, -0.1}, 1.0_cents),
                                           readings({2.0, 2.1, 1.9}, 1.0_cents), PluckOrder::alternate);
        REQUIRE(none);
        CHECK(within(none->standard_deviation, 0.0_cents, 0.0_cents));
        CHECK(none->degrees_of_freedom == doctest::Approx(2.0));
        const auto some = fretting_scatter(readings({0.0, 0.0, 0.0}, 0.3_cents),
                                           readings({1.0, 2.0, 3.0}, 0.4_cents), PluckOrder::alternate);
        REQUIRE(some);
        CHECK(within(some->standard_deviation, Cents{std::sqrt(1.0 - 0.25)}, 1e-9_cents));
    }
    TEST_CASE("whatever frequency the string has, cents are cents, and hertz follow from them") {
        for (const double f : {30.0, 82.4, 659.3, 1700.0}) {
            std::vector<PitchReading> h(2), g(2);
            for (std::size_t i = 0; i < 2; ++i) {
                h[i].frequency = Hertz{f};
                g[i].frequency = raised(Hertz{f}, Cents{3.0 + static_cast<double>(i)});
                h[i].uncertainty = g[i].uncertainty = 0.1_cents;
            }
            const auto c = compare_octave(h, g, PluckOrder::alternate, nothing_known);
            CHECK(within(c.error.value, 3.5_cents, 1e-9_cents));
            CHECK(within(interval(c.fretted.value, c.fretted.value + c.fretted.uncertainty),
                         c.fretted_uncertainty, 1e-9_cents));
        }
    }
    TEST_CASE("one kind plucked more often than the other: all notes count, and so does what they scatter") {
        const auto c =
            compare_octave(readings({0.0}), readings({1.0, 3.0, 5.0}), PluckOrder::grouped, nothing_known);
        CHECK(within(c.error.value, 3.0_cents, 1e-9_cents));
        CHECK(c.harmonics == 1);
        CHECK(c.fretted_notes == 3);
        CHECK(c.scattered);
        CHECK(within(c.scatter, 2.0_cents, 1e-9_cents));
        CHECK(c.error.uncertainty > 2.0_cents);
    }
    TEST_CASE("plucks that disagree by more than a cent and a half are called scattered, calm ones are not") {
        const auto calm = compare_octave(readings({0.0, 0.1, 0.0}), readings({2.0, 2.3, 1.9}),
                                         PluckOrder::alternate, {0.3_cents, 10.0});
        CHECK_FALSE(calm.scattered);
        const auto wild = compare_octave(readings({0.0, 0.1, 0.0}), readings({2.0, 5.3, 1.9}),
                                         PluckOrder::alternate, {0.3_cents, 10.0});
        CHECK(wild.scattered);
        const auto alone = compare_octave(readings({0.0, 0.1, 0.0}), readings({2.0, 5.3, 1.9}),
                                          PluckOrder::alternate, nothing_known);
        CHECK(alone.scattered);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("notes that agree exactly and claim no uncertainty still give numbers") {
        for (const PluckOrder order : {PluckOrder::alternate, PluckOrder::grouped}) {
            const auto c = compare_octave(readings({0.0, 0.0}, 0.0_cents), readings({1.0, 1.0}, 0.0_cents),
                                          order, nothing_known);
            CHECK(within(c.error.value, 1.0_cents, 1e-9_cents));
            CHECK(c.error.uncertainty >= 0.0_cents);
            CHECK(std::isfinite(c.error.uncertainty.value()));
        }
    }
}

}  // namespace midspan::test
