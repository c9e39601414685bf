// bridge_drawing_test.cpp: the plan of the bridge is to scale and shows the direction without colour.
#include "midspan/view/bridge_drawing.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <sstream>

#include "view/columns.hpp"
#include "view/hand_made_analysis.hpp"

namespace midspan::test {
namespace {

std::string lane(const std::string& drawing, std::string_view name) {
    std::istringstream lines{drawing};
    for (std::string line; std::getline(lines, line);) {
        if (line.starts_with(name)) return line;
    }
    return {};
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("a move toward the tail points away from the nut, one toward the nut points to it") {
        Analysis a = hand_made_analysis();
        CHECK(lane(bridge_drawing(a, {}), " 3  G3").find("O>>>>>>>X") != std::string::npos);
        a.strings[2].move->toward_tail = Millimetres{-0.8};
        CHECK(lane(bridge_drawing(a, {}), " 3  G3").find("X<<<<<<<O") != std::string::npos);
    }

    TEST_CASE("arrow and travel are to the scale that is stated") {
        Analysis a = hand_made_analysis();
        for (AnalysedString& s : a.strings) {
            s.string.saddle.travel_toward_nut = Millimetres{4.0};
            s.string.saddle.travel_toward_tail = Millimetres{5.0};
        }
        a.strings[2].move->toward_tail = Millimetres{2.0};
        const std::string drawing = bridge_drawing(a, {});
        CHECK(drawing.starts_with("The bridge from above; one column is 0.2 mm\n"));
        const std::string third = lane(drawing, " 3  G3");
        // Every point is rounded to its column, so a distance is right to one column.
        const auto now = static_cast<int>(third.find('O'));
        CHECK(std::abs(static_cast<int>(third.find('X')) - now - 10) <= 1);   // 2 mm
        CHECK(std::abs(now - static_cast<int>(third.find('|')) - 20) <= 1);   // 4 mm
        CHECK(std::abs(static_cast<int>(third.rfind('|')) - now - 25) <= 1);  // 5 mm
    }

    TEST_CASE("with all travel known the lanes begin in line, as the bridge does") {
        Analysis a = hand_made_analysis();
        double to_nut = 1.0;
        for (AnalysedString& s : a.strings) {
            s.string.saddle.travel_toward_nut = Millimetres{to_nut};
            s.string.saddle.travel_toward_tail = Millimetres{6.0 - to_nut};
            to_nut += 1.0;
        }
        const std::string drawing = bridge_drawing(a, {});
        const auto ends = lane(drawing, " 3  G3").find('|');
        CHECK(lane(drawing, " 2  B3").find('|') == ends);
        CHECK(lane(drawing, " 1  E4").find('|') == ends);
        CHECK(lane(drawing, " 2  B3").find('O') < lane(drawing, " 3  G3").find('O'));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a saddle that is good enough stays, and one not known is marked") {
        const std::string drawing = bridge_drawing(hand_made_analysis(), {});
        CHECK(lane(drawing, " 2  B3").find("stays") != std::string::npos);
        CHECK(lane(drawing, " 2  B3").find('X') == std::string::npos);
        CHECK(lane(drawing, " 1  E4").find('?') != std::string::npos);
        CHECK(lane(drawing, " 1  E4").find("measure again") != std::string::npos);
    }

    TEST_CASE("every sign on the drawing is explained below it, and no other") {
        Analysis a = hand_made_analysis();
        CHECK(bridge_drawing(a, {}).ends_with(
            "\nO now   X where it should be   ? measure again   . not told\n"));
        a.strings.erase(a.strings.begin());
        a.strings[1].verdict = Verdict::in_tolerance;
        for (AnalysedString& s : a.strings) {
            s.string.saddle.travel_toward_nut = Millimetres{2.0};
            s.string.saddle.travel_toward_tail = Millimetres{2.0};
        }
        CHECK(bridge_drawing(a, {}).ends_with("\nO now   | end of travel\n"));
    }

    TEST_CASE("the smallest move still shows its direction") {
        Analysis a = hand_made_analysis();
        a.strings[1].verdict = Verdict::move;
        a.strings[1].move->toward_tail = Millimetres{-0.01};
        CHECK(lane(bridge_drawing(a, {}), " 2  B3").find("XO") != std::string::npos);
    }

    TEST_CASE("a move beyond the travel says so and ends behind the end of travel") {
        Analysis a = hand_made_analysis();
        a.strings[2].string.saddle.travel_toward_tail = Millimetres{0.5};
        const std::string third = lane(bridge_drawing(a, {}), " 3  G3");
        CHECK(third.find("beyond its travel") != std::string::npos);
        CHECK(third.find('X') == third.find('O') + 8);
    }

    TEST_CASE("the drawing fits 80 columns, from the finest to the coarsest move") {
        for (const double move : {0.05, 0.8, 5.0, 37.4, 86.0}) {
            for (const bool utf8 : {false, true}) {
                for (const LengthUnit unit : {LengthUnit::millimetres, LengthUnit::inches}) {
                    Analysis a = hand_made_analysis();
                    a.strings[2].move->toward_tail = Millimetres{move};
                    a.strings[2].string.saddle.travel_toward_tail = Millimetres{0.04};
                    std::istringstream lines{bridge_drawing(a, {unit, utf8, false})};
                    for (std::string line; std::getline(lines, line);)
                        CHECK(columns(line) <= 80);
                }
            }
        }
    }

    TEST_CASE("without a comparison there is nothing to draw") {
        Analysis a = hand_made_analysis();
        for (AnalysedString& s : a.strings)
            s = unheard_string(s.string.number, "E4");
        CHECK(bridge_drawing(a, {}).empty());
        CHECK(bridge_drawing(Analysis{}, {}).empty());
    }
}

}  // namespace midspan::test
