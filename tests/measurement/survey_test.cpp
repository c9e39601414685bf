// survey_test.cpp: from the sound of a neck to what is wrong with it.
//
// Room: tests.
#include "midspan/measurement/survey.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "support/neck_take.hpp"
#include "support/within.hpp"

namespace midspan::test {
namespace {

using namespace literals;

constexpr Hertz rate{16000.0};

Instrument guitar() {
    const Millimetres length{648.0};
    return make_instrument(standard_tuning, {&length, 1}, 440.0_hz, {}).value();
}

NeckAnalysis surveyed(const std::vector<NeckPluck>& plucks, std::optional<int> string = {},
                      const SurveyOptions& options = {}, const Instrument& instrument = guitar()) {
    const std::vector<float> sound = neck_take(plucks, instrument, rate, 1.0_s, 5);
    Survey survey{instrument, options};
    survey.begin_recording("neck.wav", {rate, 1}, string);
    survey.feed({sound, 1});
    survey.end_recording();
    return survey.analysis();
}

/// Cents a millimetre of saddle is worth at a fret.
double saddle(int fret) { return 1200.0 / std::log(2.0) / 648.0 * (std::exp2(fret / 12.0) - 1.0); }

bool names(const NeckAnalysis& analysis, const NamedCause& cause) {
    const auto& findings = analysis.neck.findings;
    return std::any_of(findings.begin(), findings.end(),
                       [&](const NeckFinding& f) { return f.rivals.empty() && f.cause == cause; });
}

bool warns(const NeckAnalysis& analysis, WarningCode code) {
    return std::any_of(analysis.warnings.begin(), analysis.warnings.end(),
                       [code](const Warning& w) { return w.code == code; });
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("from its sound a neck's short saddle and bad fret are named, and nothing else") {
        std::vector<NeckPluck> plucks;
        for (const int string : {6, 5, 4}) {
            plucks.push_back({string, 0});
            for (const int fret : {1, 2, 3, 5, 7, 9, 12, 15}) {
                const double error = (string == 5 ? 1.5 * saddle(fret) : 0.0) + (fret == 7 ? 7.0 : 0.0);
                plucks.push_back({string, fret, Cents{error}});
            }
        }
        const NeckAnalysis analysis = surveyed(plucks);
        REQUIRE(analysis.plucks.size() == plucks.size());
        for (std::size_t i = 0; i < plucks.size(); ++i) {
            CAPTURE(i);
            CHECK(analysis.plucks[i].string == plucks[i].string);
            CHECK(analysis.plucks[i].fret == plucks[i].fret);
            // A note of a second, at 50 dB, with a glide.
            if (plucks[i].fret > 0) CHECK(within(*analysis.plucks[i].error, plucks[i].error, 0.3_cents));
        }
        CHECK(analysis.warnings.empty());
        CHECK(analysis.neck.findings.size() == 2);
        CHECK(names(analysis, {NeckCause::fret, {}, 7}));
        REQUIRE(names(analysis, {NeckCause::saddle, 5, {}}));
        const auto found =
            std::find_if(analysis.neck.findings.begin(), analysis.neck.findings.end(),
                         [](const NeckFinding& f) { return f.cause.cause == NeckCause::saddle; });
        CHECK(within(found->length->value, 1.5_mm, 2.0 * found->length->uncertainty + 0.1_mm));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("errors from the harmonic are those from the open string, in any order, with repeats") {
        const std::vector<NeckPluck> plucks{{6, 12, 0.0_cents, true},
                                            {6, 7, 3.0_cents},
                                            {6, 3, 1.0_cents},
                                            {6, 7, 3.0_cents},
                                            {6, 12, 4.0_cents}};
        const NeckAnalysis analysis = surveyed(plucks, 6);
        REQUIRE(analysis.references.size() == 1);
        CHECK_FALSE(analysis.references[0].from_open);
        CHECK(within(analysis.references[0].off, 0.0_cents, 0.3_cents));
        REQUIRE(analysis.neck.notes.size() == 3);
        CHECK(within(analysis.neck.notes[0].error.value, 1.0_cents, 0.3_cents));
        CHECK(within(analysis.neck.notes[1].error.value, 3.0_cents, 0.3_cents));
        CHECK(within(analysis.neck.notes[2].error.value, 4.0_cents, 0.3_cents));
        CHECK(analysis.neck.notes[1].plucks == 2);
    }

    TEST_CASE("an open string and its harmonic are one reference, better known than either alone") {
        const std::vector<NeckPluck> open{{6, 0}, {6, 5, 2.0_cents}};
        const std::vector<NeckPluck> both{{6, 0}, {6, 12, 0.0_cents, true}, {6, 5, 2.0_cents}};
        const NeckAnalysis one = surveyed(open, 6);
        const NeckAnalysis two = surveyed(both, 6);
        REQUIRE(one.references.size() == 1);
        REQUIRE(two.references.size() == 1);
        CHECK(two.references[0].plucks == 2);
        CHECK(two.references[0].uncertainty < one.references[0].uncertainty);
        CHECK(within(two.references[0].off, 0.0_cents, 0.3_cents));
        SurveyOptions open_alone;
        open_alone.reference = SurveyReference::open;
        CHECK(surveyed(both, 6, open_alone).references[0].plucks == 1);
    }

    TEST_CASE("a dropped tuning and a capo are no different from an instrument that is tuned so") {
        const Millimetres length{648.0};
        const Instrument dropped = make_instrument("D2,A2,D3,G3,B3,E4", {&length, 1}, 440.0_hz, {}).value();
        std::vector<NeckPluck> plucks;
        for (const int fret : {2, 3, 5, 7, 9, 14})
            plucks.push_back({6, fret, Cents{fret == 2 ? 0.0 : 2.0}});
        SurveyOptions options;
        options.capo = 2;
        const NeckAnalysis analysis = surveyed(plucks, 6, options, dropped);
        // What rings open is fret 2, and it is the reference.
        REQUIRE(analysis.references.size() == 1);
        CHECK(within(analysis.references[0].off, 0.0_cents, 1.0_cents));
        REQUIRE(analysis.neck.notes.size() == 5);
        CHECK(analysis.neck.notes[0].fret == 3);
        CHECK(analysis.neck.notes[4].fret == 14);
        CHECK(analysis.plucks[0].fret == 2);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("a survey can be asked after every note, from the first one on") {
        // As a live session asks. One fretted note so far off that it is left out leaves no string at all.
        for (const Cents error : {0.0_cents, 30.0_cents}) {
            std::vector<NeckPluck> plucks{{6, 0}};
            CHECK(surveyed(plucks).neck.strings.empty());
            for (const int fret : {1, 2, 3}) {
                plucks.push_back({6, fret, error});
                CHECK(surveyed(plucks).plucks.size() == plucks.size());
            }
        }
    }

    TEST_CASE("a string without a reference is asked for it, by name") {
        const NeckAnalysis analysis = surveyed({{6, 3}, {6, 5}}, 6);
        CHECK(analysis.neck.notes.empty());
        CHECK(warns(analysis, WarningCode::only_fretted));
    }
}

}  // namespace midspan::test
