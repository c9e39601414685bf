// stated_neck_test.cpp: strings and heights as a record has them, brought to where the model counts them.
#include "midspan/record/stated_neck.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <vector>

#include "midspan/record/bench_entry.hpp"
#include "support/within.hpp"

namespace midspan::test {
namespace {

using namespace midspan::literals;

InstrumentEntry guitar(const char* gauges) {
    const Millimetres length{648.0};
    InstrumentEntry entry{make_instrument(standard_tuning, {&length, 1}, 440.0_hz, {}).value()};
    if (*gauges != '\0') entry.fitted = parse_gauges(gauges).value();
    return entry;
}

BenchMeasurement measured(BenchQuantity quantity, double mm, std::optional<int> string, BenchMethod method) {
    return {"2026-03-14T09:26:53Z", quantity, Millimetres{mm}, "", string, std::move(method), ""};
}

Visit visit(std::vector<BenchMeasurement> measurements) {
    Visit one{};
    one.measurements = std::move(measurements);
    return one;
}

BenchMethod read_at(int fret, std::vector<int> held = {}) {
    BenchMethod method{};
    method.held = std::move(held);
    method.read_at = fret;
    return method;
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("however it was measured, the height at the nut is that of the string there") {
        // A string 0.5 mm over the frets at the nut and 1.8 mm at the 12th, and one held at fret 3.
        const auto along = [](int fret) { return 1.0 - std::exp2(-fret / 12.0); };
        const double open_over_1 = 0.5 + (1.8 - 0.5) * along(1) / along(12);
        const double held_over_1 = 0.5 * (1.0 - along(1) / along(3));
        const BenchMeasurement action = measured(BenchQuantity::action, 1.8, {}, read_at(12));
        for (const auto& nut : {measured(BenchQuantity::nut_height, 0.5, {}, read_at(0)),
                                measured(BenchQuantity::nut_height, open_over_1, {}, read_at(1)),
                                measured(BenchQuantity::nut_height, held_over_1, {}, read_at(1, {3}))}) {
            const std::vector visits{visit({action, nut})};
            const StatedNeck neck = stated_neck(guitar("10,13,17,26w,36w,46w"), visits);
            REQUIRE(neck.strings.size() == 6);
            for (const StatedString& string : neck.strings) {
                REQUIRE(string.nut_height);
                CHECK(within(*string.nut_height, 0.5_mm, 1e-9_mm));
            }
        }
    }
    TEST_CASE("however it was measured, relief is the bow mid-way between frets 1 and 17") {
        // A neck that bows by 0.3 mm there, as a parabola, under a string that is held at two frets.
        const auto along = [](int fret) { return 1.0 - std::exp2(-fret / 12.0); };
        const double half = 0.5 * (along(17) - along(1));
        const auto gap = [&](int from, int at, int to) {
            return 0.3 / (half * half) * (along(at) - along(from)) * (along(to) - along(at));
        };
        BenchMethod to_last = read_at(8, {1});
        to_last.last_fret_held = true;
        BenchMethod with_capo = read_at(7, {14});
        with_capo.capo = 1;
        for (const auto& relief : {measured(BenchQuantity::relief, gap(1, 8, 17), {}, to_last),
                                   measured(BenchQuantity::relief, gap(1, 7, 14), {}, with_capo),
                                   measured(BenchQuantity::relief, gap(3, 7, 17), {}, read_at(7, {3, 20}))}) {
            const std::vector visits{visit({relief})};
            const StatedNeck neck = stated_neck(guitar(""), visits);
            REQUIRE(neck.relief);
            CHECK(within(*neck.relief, 0.3_mm, 1e-9_mm));
        }
    }
}

TEST_SUITE("properties") {
    TEST_CASE("the newest visit that has a number counts, and in it the last one") {
        const std::vector visits{visit({measured(BenchQuantity::relief, 0.3, {}, read_at(7)),
                                        measured(BenchQuantity::action, 2.5, {}, read_at(12))}),
                                 visit({measured(BenchQuantity::relief, 0.25, {}, read_at(7)),
                                        measured(BenchQuantity::relief, 0.15, {}, read_at(7))})};
        const StatedNeck neck = stated_neck(guitar(""), visits);
        REQUIRE(neck.relief);
        CHECK(within(*neck.relief, 0.15_mm, 0.0_mm));
        CHECK(within(*neck.strings[2].action, 2.5_mm, 0.0_mm));
        CHECK_FALSE(neck.strings[2].nut_height);
        CHECK_FALSE(neck.strings[2].gauge);
    }
    TEST_CASE("measured at two strings, the others lie between them; a string of its own stands out") {
        const std::vector between{visit({measured(BenchQuantity::action, 2.0, 6, read_at(12)),
                                         measured(BenchQuantity::action, 1.5, 1, read_at(12))})};
        const StatedNeck neck = stated_neck(guitar(""), between);
        CHECK(within(*neck.strings[0].action, 1.5_mm, 1e-9_mm));
        CHECK(within(*neck.strings[3].action, 1.8_mm, 1e-9_mm));
        const std::vector own{visit({measured(BenchQuantity::action, 1.8, {}, read_at(12)),
                                     measured(BenchQuantity::action, 2.2, 6, read_at(12))})};
        CHECK(within(*stated_neck(guitar(""), own).strings[5].action, 2.2_mm, 0.0_mm));
        CHECK(within(*stated_neck(guitar(""), own).strings[4].action, 1.8_mm, 0.0_mm));
    }
    TEST_CASE("a thin string of unknown winding is plain, a thick one is not known") {
        const StatedNeck neck = stated_neck(guitar("10,13,17,26,36w/15,?"), {});
        REQUIRE(neck.strings[2].gauge);
        CHECK_FALSE(neck.strings[2].gauge->wound);
        CHECK_FALSE(neck.strings[3].gauge);
        REQUIRE(neck.strings[4].gauge);
        CHECK(neck.strings[4].gauge->core);
        CHECK_FALSE(neck.strings[5].gauge);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("an action over another fret or under a capo, and a string that cannot be made, are not used") {
        BenchMethod with_capo = read_at(12);
        with_capo.capo = 1;
        const std::vector visits{visit({measured(BenchQuantity::action, 1.8, {}, read_at(17)),
                                        measured(BenchQuantity::action, 1.8, {}, with_capo)})};
        InstrumentEntry entry = guitar("10,13,17,26w,36w,46w");
        entry.fitted[5].core = entry.fitted[5].gauge;
        entry.fitted[0].gauge = 0.06_mm;
        const StatedNeck neck = stated_neck(entry, visits);
        CHECK_FALSE(neck.strings[0].action);
        CHECK_FALSE(neck.strings[0].gauge);
        CHECK_FALSE(neck.strings[5].gauge);
    }
}

}  // namespace midspan::test
