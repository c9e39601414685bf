// bench_page_test.cpp: screens as they are seen, against golden ones.
#include "midspan/view/bench_page.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

#include "view/big_letters.hpp"
#include "view/columns.hpp"
#include "view/hand_made_session.hpp"

namespace midspan::test {
using namespace midspan::literals;

namespace {

constexpr Look drawn{LengthUnit::millimetres, true, false};

std::vector<PageLine> page_of(const HandMadeSession& session, PageSize size, Look look = drawn) {
    return bench_page(session.state, session.instrument, session.analysis, {}, look, size);
}

std::string text_of(const std::vector<PageLine>& page) {
    std::string text;
    for (const PageLine& line : page) {
        std::string row = line.text;
        row.erase(row.find_last_not_of(' ') + 1);
        text += row + '\n';
    }
    return text;
}

/// Golden screens stand in tests/view/screens; MIDSPAN_RENEW_SCREENS=1 writes them anew, to be looked at.
void check_golden(const std::string& name, const std::string& text) {
    const std::string path = std::string{MIDSPAN_TEST_SCREENS} + "/" + name + ".txt";
    if (std::getenv("MIDSPAN_RENEW_SCREENS") != nullptr) std::ofstream{path} << text;
    std::ifstream file{path};
    std::ostringstream golden;
    golden << file.rdbuf();
    CHECK_MESSAGE(text == golden.str(), name, " is now\n", text);
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("screens look as they did when somebody looked at them") {
        check_golden("begin-80x24", text_of(page_of(nothing_plucked(), {80, 24})));
        check_golden("move-80x24", text_of(page_of(a_move(), {80, 24})));
        check_golden("move-ascii-80x24", text_of(page_of(a_move(), {80, 24}, {})));
        check_golden("move-inches-80x24",
                     text_of(page_of(a_move(), {80, 24}, {LengthUnit::inches, true, false})));
        check_golden("refused-80x24", text_of(page_of(a_refusal(), {80, 24})));
        check_golden("being-tuned-80x24", text_of(page_of(being_tuned(), {80, 24})));
        check_golden("second-round-80x24", text_of(page_of(second_round(), {80, 24})));
        check_golden("move-120x40", text_of(page_of(a_move(), {120, 40})));
        check_golden("move-200x60", text_of(page_of(a_move(), {200, 60})));
        check_golden("move-60x16", text_of(page_of(a_move(), {60, 16})));
    }
    TEST_CASE("a page never leaves its window") {
        for (const HandMadeSession& session : {nothing_plucked(), a_move(), a_refusal(), second_round()}) {
            for (const PageSize size : {PageSize{1, 1},
                                        {20, 5},
                                        {79, 24},
                                        {80, 23},
                                        {80, 24},
                                        {81, 30},
                                        {120, 40},
                                        {160, 50},
                                        {200, 60},
                                        {400, 150}}) {
                const auto page = page_of(session, size);
                CHECK(page.size() <= static_cast<std::size_t>(size.rows));
                for (const PageLine& line : page)
                    CHECK(columns(line.text) <= static_cast<std::size_t>(size.columns));
            }
        }
    }
    TEST_CASE("what the source has to say stands on the page, on one line that moves no cursor") {
        const HandMadeSession session = nothing_plucked();
        const auto page = bench_page(session.state, session.instrument, session.analysis,
                                     "the input converts\x1b[2J its rate", drawn, {80, 24});
        CHECK(text_of(page).find(" the input converts?[2J its rate\n") != std::string::npos);
    }
    TEST_CASE("big letters are of one width, and a larger scale is that much larger") {
        for (const int scale : {1, 2, 3}) {
            const auto rows = big_letters("1.1 mm to tail", scale, true);
            CHECK(static_cast<int>(rows.size()) == big_rows(scale));
            for (const std::string& row : rows)
                CHECK(static_cast<int>(columns(row)) == big_columns("1.1 mm to tail", scale));
        }
        CHECK(big_columns("6 E2 TURN TUNE", 1) <= 78);
        CHECK(big_columns("2 1/4 TURNS CLOCKWISE", 1) > 0);
    }
}

}  // namespace midspan::test
