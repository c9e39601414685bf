// shipped_recordings_test.cpp: every take in test_audio against the truth beside it.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "measurement/shipped_take.hpp"
#include "support/within.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

using Json = nlohmann::json;

constexpr Seconds found_within = 0.02_s;

bool names(const Json& list, std::string_view name) {
    return std::find(list.begin(), list.end(), name) != list.end();
}

bool warned(const Analysis& analysis, std::string_view code, std::optional<int> string) {
    return std::any_of(analysis.warnings.begin(), analysis.warnings.end(), [&](const Warning& warning) {
        return code_name(warning.code) == code && (!string || warning.string == string);
    });
}

std::string_view name_of(NoteKind kind) {
    switch (kind) {
        case NoteKind::open:
            return "open";
        case NoteKind::harmonic:
            return "harmonic";
        case NoteKind::fretted:
            break;
    }
    return "fretted";
}

bool swapped(const Json& told) { return names(told["expected_warnings"], "order_contradicted"); }

/// The string of the truth with that number.
const Json& told_string(const Json& truth, int number) {
    for (const Json& told : truth["strings"]) {
        if (told["string"] == number) return told;
    }
    FAIL("no string ", number, " in the truth");
    return truth;
}

/// The pluck of the truth nearest in time, if it is near enough to be the same.
const Json* told_pluck(const Json& truth, Seconds start) {
    for (const Json& told : truth["plucks"]) {
        if (within(start, Seconds{told["at_s"]}, found_within)) return &told;
    }
    return nullptr;
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("every shipped recording is among the takes that are checked") {
        std::size_t recordings = 0;
        for (const auto& entry : std::filesystem::directory_iterator{MIDSPAN_TEST_AUDIO}) {
            const auto extension = entry.path().extension();
            if (extension != ".wav" && extension != ".flac") continue;
            if (entry.path().stem() == "neck") continue;  // a survey's: no harmonics to compare with
            ++recordings;
            CHECK_MESSAGE(names(Json(shipped_takes()), entry.path().stem().string()), entry.path().string());
        }
        CHECK(recordings == shipped_takes().size());
    }
    TEST_CASE("shipped recordings: each string's error is the truth, within what is stated") {
        for (const std::string_view name : shipped_takes()) {
            CAPTURE(name);
            const ShippedTake& take = shipped_take(name);
            for (const Json& told : take.truth["strings"]) {
                const AnalysedString& string = take.string(told["string"]);
                CAPTURE(told["open_note"]);
                REQUIRE(string.comparison.has_value());
                const Uncertain<Cents> error = string.comparison->error;
                CAPTURE(error.value.value());
                CAPTURE(error.uncertainty.value());
                const double sign = swapped(told) ? -1.0 : 1.0;  // it is taken as it was plucked, and named
                const Cents tolerance = 4.0 * error.uncertainty + 0.05_cents;
                // What the neck would show without the scatter of the fretting hand: three plucks that agree
                // by chance do not know of it.
                CHECK(within(error.value, sign * Cents{told["error_cents"]}, tolerance + 0.15_cents));
                CHECK(within(error.value, sign * Cents{told["played_error_cents"]}, tolerance));
            }
        }
    }
    TEST_CASE("shipped recordings: the verdict is one that the truth allows") {
        for (const std::string_view name : shipped_takes()) {
            CAPTURE(name);
            const ShippedTake& take = shipped_take(name);
            for (const Json& told : take.truth["strings"]) {
                const AnalysedString& string = take.string(told["string"]);
                CAPTURE(told["open_note"]);
                CAPTURE(verdict_name(string.verdict));
                CHECK(names(told["acceptable_verdicts"], verdict_name(string.verdict)));
            }
        }
    }
    TEST_CASE("shipped recordings: a string that was not played has no answer") {
        const ShippedTake& take = shipped_take("drop-d");
        int silent = 0;
        for (const AnalysedString& string : take.analysis.strings) {
            const int number = string.string.number;
            if (number == 6 || number == 4) continue;
            ++silent;
            CHECK_FALSE(string.comparison.has_value());
            CHECK(string.verdict == Verdict::measure_again);
            CHECK(warned(take.analysis, "no_plucks", number));
        }
        CHECK(silent == 4);
    }
    TEST_CASE("shipped recordings: open strings are as far off as they were tuned, within 0.5 cent") {
        for (const std::string_view name : shipped_takes()) {
            CAPTURE(name);
            const ShippedTake& take = shipped_take(name);
            for (const Json& told : take.truth["strings"]) {
                if (swapped(told)) continue;  // without open plucks, a fretted note would stand in
                const AnalysedString& string = take.string(told["string"]);
                CAPTURE(told["open_note"]);
                REQUIRE(string.tuning.has_value());
                CAPTURE(string.tuning->off.value());
                CHECK(string.tuning->from_open == told.contains("open"));
                CHECK(within(string.tuning->off, Cents{told["off_pitch_cents"]}, 0.5_cents));
            }
        }
    }
    TEST_CASE("shipped recordings: what should be warned of is, by name and string") {
        for (const std::string_view name : shipped_takes()) {
            CAPTURE(name);
            const ShippedTake& take = shipped_take(name);
            for (const Json& code : take.truth["expected_warnings"]) {
                CAPTURE(code);
                CHECK(warned(take.analysis, code.get<std::string>(), std::nullopt));
            }
            for (const Json& told : take.truth["strings"]) {
                const int number = take.string(told["string"]).string.number;
                for (const Json& code : told["expected_warnings"]) {
                    CAPTURE(code);
                    CHECK(warned(take.analysis, code.get<std::string>(), number));
                }
            }
        }
    }
    TEST_CASE("shipped recordings: every pluck is found within 20 ms") {
        for (const std::string_view name : shipped_takes()) {
            CAPTURE(name);
            const ShippedTake& take = shipped_take(name);
            for (const Json& told : take.truth["plucks"]) {
                const Seconds at{told["at_s"]};
                CAPTURE(at.value());
                const auto found = std::count_if(
                    take.analysis.plucks.begin(), take.analysis.plucks.end(),
                    [&](const AnalysedPluck& pluck) { return within(pluck.start, at, found_within); });
                CHECK(found == 1);
            }
        }
    }
    TEST_CASE("shipped recordings: nothing is used but plucks, each for what it is") {
        for (const std::string_view name : shipped_takes()) {
            CAPTURE(name);
            const ShippedTake& take = shipped_take(name);
            for (const AnalysedPluck& pluck : take.analysis.plucks) {
                if (!pluck.used) continue;
                CAPTURE(pluck.start.value());
                const Json* told = told_pluck(take.truth, pluck.start);
                REQUIRE(told != nullptr);
                CHECK((*told)["choked"] == false);
                CHECK((*told)["overload"] == false);
                const int number = (*told)["string"];
                CHECK(pluck.string == take.string(number).string.number);
                REQUIRE(pluck.kind.has_value());
                if (!swapped(told_string(take.truth, number))) CHECK((*told)["kind"] == name_of(*pluck.kind));
            }
        }
    }
    TEST_CASE("shipped recordings: each note settles where it was made to, within 4 stated and 0.1 cent") {
        for (const std::string_view name : shipped_takes()) {
            CAPTURE(name);
            const ShippedTake& take = shipped_take(name);
            for (const AnalysedPluck& pluck : take.analysis.plucks) {
                if (!pluck.used) continue;
                CAPTURE(pluck.start.value());
                const Json* told = told_pluck(take.truth, pluck.start);
                REQUIRE(told != nullptr);
                REQUIRE(pluck.reading.has_value());
                const Cents off = interval(Hertz{(*told)["frequency_hz"]}, pluck.reading->frequency);
                CAPTURE(off.value());
                CAPTURE(pluck.reading->uncertainty.value());
                CHECK(within(off, 0.0_cents, 4.0 * pluck.reading->uncertainty + 0.1_cents));
            }
        }
    }
}

}  // namespace midspan::test
