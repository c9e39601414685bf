// analysis_json_test.cpp: the contract with other programs.
#include "midspan/view/analysis_json.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <nlohmann/json.hpp>

#include "support/by_python.hpp"
#include "view/hand_made_analysis.hpp"

namespace midspan::test {
namespace {

using Json = nlohmann::ordered_json;

std::vector<std::string> keys(const Json& object) {
    std::vector<std::string> names;
    for (const auto& item : object.items())
        names.push_back(item.key());
    return names;
}

/// Whether `names` begins with the contract's keys in their order; what was added stands behind them.
bool begins_with(const std::vector<std::string>& names, const std::vector<std::string>& contract) {
    return names.size() >= contract.size() && std::equal(contract.begin(), contract.end(), names.begin());
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("the JSON has every key of the contract, in its order") {
        const Json j = Json::parse(analysis_json(hand_made_analysis()));
        CHECK(begins_with(keys(j), {"schema", "recordings", "strings", "warnings"}));
        CHECK(j["schema"] == "midspan/analysis/1");
        CHECK(begins_with(keys(j["recordings"][0]), {"path", "sample_rate_hz", "channels", "duration_s"}));
        for (const Json& string : j["strings"]) {
            CHECK(begins_with(keys(string),
                              {"string", "open_note", "scale_length_mm", "harmonic", "fretted", "error_cents",
                               "uncertainty_cents", "move_mm", "move_uncertainty_mm", "direction", "turns",
                               "verdict", "warnings"}));
        }
        CHECK(keys(j["strings"][0]["harmonic"]) ==
              std::vector<std::string>{"frequency_hz", "uncertainty_cents", "plucks"});
        for (const Json& warning : j["warnings"]) {
            CHECK(keys(warning) ==
                  std::vector<std::string>{"code", "at_s", "string", "recording", "message"});
        }
    }

    TEST_CASE("an analysis is what its schema describes") {
        Analysis analysis = hand_made_analysis();
        CHECK(against_schema("analysis-1", analysis_json(analysis)) == "");
        CHECK(against_schema("analysis-1", analysis_json(Analysis{})) == "");
        analysis.strings[0].turns = Turns{1.5};
        analysis.strings[0].turns_uncertainty = Turns{0.1};
        analysis.strings[0].turns_learned = true;
        CHECK(against_schema("analysis-1", analysis_json(analysis)) == "");
        Json json = Json::parse(analysis_json(analysis));
        json["strings"][0]["verdict"] = "perfect";
        CHECK(against_schema("analysis-1", json.dump()) != "");
    }

    TEST_CASE("the JSON carries the values unrounded") {
        Analysis a = hand_made_analysis();
        a.strings[2].comparison->error.value = Cents{2.2000000000000006};
        const Json j = Json::parse(analysis_json(a));
        const Json& third = j["strings"][0];
        CHECK(third["string"] == 3);
        CHECK(third["error_cents"].get<double>() == 2.2000000000000006);
        CHECK(third["harmonic"]["frequency_hz"].get<double>() ==
              a.strings[2].comparison->harmonic.value.value());
        CHECK(third["move_mm"].get<double>() == 0.8);
        CHECK(third["direction"] == "toward_tail");
        CHECK(third["verdict"] == "move");
        CHECK(j["recordings"][0]["sample_rate_hz"] == 48000);
        CHECK(j["plucks"][0]["at_s"].get<double>() == 1.25);
        CHECK(j["plucks"][0]["kind"] == "harmonic");
    }

    TEST_CASE("the JSON lists strings as a player says the tuning, string 1 last") {
        const Json j = Json::parse(analysis_json(hand_made_analysis()));
        CHECK(j["strings"][0]["open_note"] == "G3");
        CHECK(j["strings"][2]["string"] == 1);
    }

    TEST_CASE("a string with no usable pair is present, with nulls and a warning") {
        const Json j = Json::parse(analysis_json(hand_made_analysis()));
        const Json& first = j["strings"][2];
        for (const char* key : {"harmonic", "fretted", "error_cents", "uncertainty_cents", "move_mm",
                                "move_uncertainty_mm", "turns", "tuning", "inharmonicity"}) {
            CAPTURE(key);
            CHECK(first[key].is_null());
        }
        CHECK(first["direction"] == "none");
        CHECK(first["verdict"] == "measure_again");
        CHECK(first["warnings"] == Json::array({"no_plucks"}));
    }

    TEST_CASE("a direction is given only with the verdict move, toward the nut for a negative one") {
        Analysis a = hand_made_analysis();
        CHECK(Json::parse(analysis_json(a))["strings"][1]["direction"] == "none");
        a.strings[1].verdict = Verdict::move;
        CHECK(Json::parse(analysis_json(a))["strings"][1]["direction"] == "toward_nut");
    }

    TEST_CASE("turns are null until the thread pitch is known") {
        Analysis a = hand_made_analysis();
        CHECK(Json::parse(analysis_json(a))["strings"][0]["turns"].is_null());
        a.strings[2].turns = Turns{1.6};
        CHECK(Json::parse(analysis_json(a))["strings"][0]["turns"].get<double>() == 1.6);
    }

    TEST_CASE("the JSON is one object and one newline, without a byte before or behind") {
        const std::string text = analysis_json(hand_made_analysis());
        CHECK(text.front() == '{');
        CHECK(text.substr(text.size() - 2) == "}\n");
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("what is not a finite number is null, never NaN or Infinity") {
        Analysis a = hand_made_analysis();
        a.plucks[1].level = Decibels{-std::numeric_limits<double>::infinity()};
        a.strings[2].inharmonicity = std::numeric_limits<double>::quiet_NaN();
        const Json j = Json::parse(analysis_json(a));
        CHECK(j["plucks"][1]["level_dbfs"].is_null());
        CHECK(j["strings"][0]["inharmonicity"].is_null());
    }

    TEST_CASE("a file name that is no UTF-8 still makes valid JSON") {
        Analysis a = hand_made_analysis();
        a.recordings[0].path = "take\xff.wav";
        CHECK(Json::parse(analysis_json(a))["recordings"][0]["path"] == "take\uFFFD.wav");
    }

    TEST_CASE("an analysis without recordings, strings and warnings has empty lists") {
        const Json j = Json::parse(analysis_json(Analysis{}));
        for (const char* key : {"recordings", "strings", "warnings", "plucks"}) {
            CAPTURE(key);
            CHECK(j[key] == Json::array());
        }
    }
}

}  // namespace midspan::test
