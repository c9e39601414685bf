// prediction_view_test.cpp: a prediction as it is read, by people and by programs.
#include "midspan/view/prediction_view.hpp"

#include <doctest/doctest.h>

#include <array>
#include <nlohmann/json.hpp>
#include <sstream>
#include <string>

#include "midspan/instrument/string_make.hpp"
#include "view/columns.hpp"

namespace midspan::test {
namespace {

Setup light_set() {
    const std::array lengths{Millimetres{648.0}};
    Setup setup{make_instrument(standard_tuning, lengths, Hertz{440.0}, {}).value(),
                {},
                usual_action,
                usual_nut_height,
                usual_relief};
    for (const char* gauge : {"10", "13", "17", "26w/13", "36w/15", "46w/17"})
        setup.strings.push_back(parse_gauge(gauge).value());
    return setup;
}

Setup heavy_set() {
    Setup setup = light_set();
    setup.strings.clear();
    for (const char* gauge : {"13", "17", "22w/11", "32w/15", "42w/17", "56w/20"})
        setup.strings.push_back(parse_gauge(gauge).value());
    return setup;
}

std::string text_of(const Setup& before, const Setup& after,
                    const Look& look = {LengthUnit::millimetres, true, false}) {
    return prediction_text(before, after, predict_setup(before, after), look);
}

bool says(const std::string& text, std::string_view words) {
    // Wherever the lines are broken.
    std::string flat;
    std::istringstream in{text};
    for (std::string word; in >> word;)
        flat += word + ' ';
    return flat.find(words) != std::string::npos;
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("a prediction fits 80 columns and stays ASCII where the terminal does") {
        for (const bool utf8 : {true, false}) {
            for (const LengthUnit unit : {LengthUnit::millimetres, LengthUnit::inches}) {
                std::istringstream lines{text_of(light_set(), heavy_set(), {unit, utf8, false})};
                for (std::string line; std::getline(lines, line);) {
                    CAPTURE(line);
                    CHECK(columns(line) <= page_width);
                    if (!utf8) CHECK(columns(line) == line.size());
                }
            }
        }
    }
    TEST_CASE("one setup alone is told without before and after, and without cautions") {
        const std::string text = text_of(light_set(), light_set());
        CHECK(text.starts_with("Setup   46w/17 36w/15 26w/13 17 13 10 in E2 A2 D3 G3 B3 E4"));
        CHECK(says(text, "Saddle beyond the scale length"));
        CHECK(!says(text, "before"));
        CHECK(!says(text, "Before you change anything"));
    }
    TEST_CASE("strings that pull more are told with what to do first and whom to ask") {
        const std::string text = text_of(light_set(), heavy_set());
        CHECK(says(text, "pull"));
        CHECK(says(text, "qualified luthier"));
        CHECK(says(text, "set the truss rod first"));
        CHECK(says(text, "Thicker than before: strings 6, 5, 4, 3, 2 and 1."));
        CHECK(!says(text_of(heavy_set(), light_set()), "qualified luthier"));
    }
    TEST_CASE("a string near its strength, one that is slack and a travel that ends are told by number") {
        Setup high = light_set(), low = light_set(), tall = light_set();
        high.instrument.strings[0].open_frequency = Hertz{440.0};
        CHECK(says(text_of(light_set(), high), "At that pitch string 1 would carry more than 80 %"));
        low.instrument.strings[5].open_frequency = Hertz{40.0};
        CHECK(says(text_of(light_set(), low), "bends out of tune under the finger: string 6."));
        Setup before = light_set();
        for (InstrumentString& string : before.instrument.strings)
            string.saddle.travel_toward_tail = Millimetres{string.number == 3 ? 0.1 : 5.0};
        tall.action = Millimetres{2.8};
        const std::string text = text_of(before, tall);
        CHECK(says(text, "enough for strings 6, 5, 4, 2 and 1; too little for string 3."));
        CHECK(says(text, "travel may not do for string 3"));
    }
    TEST_CASE("cores nobody stated are asked for") {
        Setup unstated = light_set();
        unstated.strings[5].core.reset();
        CHECK(says(text_of(unstated, unstated), "where you know them, write 46w/17"));
        CHECK(!says(text_of(light_set(), light_set()), "where you know them"));
    }
    TEST_CASE("JSON holds every number of every string, with its standard uncertainty") {
        const Setup before = light_set(), after = heavy_set();
        const SetupPrediction prediction = predict_setup(before, after);
        const auto json = nlohmann::json::parse(prediction_json(before, after, prediction));
        CHECK(json["schema"] == "midspan/prediction/1");
        CHECK(json["changed"] == true);
        CHECK(json["strings"].size() == 6);
        CHECK(json["before"]["strings"][5]["core_mm"].get<double>() == doctest::Approx(0.4318));
        CHECK(json["before"]["strings"][0]["core_mm"].is_null());
        const auto& low = json["strings"][5];
        CHECK(low["string"] == 6);
        CHECK(low["travel"] == "not_known");
        CHECK(low["tension_n"]["change"]["value"].get<double>() ==
              prediction.strings[5].tension_change.value.value());
        CHECK(low["move_mm"]["uncertainty"].get<double>() == prediction.strings[5].move.uncertainty.value());
        REQUIRE(low["notes"].size() == 24);
        CHECK(low["notes"][11]["fret"] == 12);
        CHECK(low["notes"][11]["change_cents"]["value"].get<double>() ==
              prediction.strings[5].notes[11].change.value.value());
    }
}

}  // namespace midspan::test
