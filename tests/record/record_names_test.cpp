// record_names_test.cpp: what is written into a record can be read out of it.
#include <doctest/doctest.h>

#include "midspan/record/record_names.hpp"

namespace midspan::test {
namespace {

template <class Enumeration>
void check_back(Enumeration value) {
    CAPTURE(name_of(value));
    CHECK(from_name<Enumeration>(name_of(value)) == value);
}

}  // namespace

TEST_SUITE("properties") {
    TEST_CASE("every name in the record leads back to what it names") {
        for (const auto kind : {InstrumentKind::electric, InstrumentKind::acoustic, InstrumentKind::classical,
                                InstrumentKind::bass, InstrumentKind::other}) {
            check_back(kind);
        }
        for (const auto kind :
             {BridgeKind::individual_saddles, BridgeKind::shared_saddles, BridgeKind::one_piece}) {
            check_back(kind);
        }
        for (const auto quantity : {BenchQuantity::relief, BenchQuantity::action, BenchQuantity::nut_height,
                                    BenchQuantity::fret_height, BenchQuantity::pickup_height}) {
            check_back(quantity);
        }
        for (const auto winding : {Winding::plain, Winding::wound})
            check_back(winding);
        for (const auto source : {ReadingSource::analyze, ReadingSource::listen})
            check_back(source);
        for (const auto kind : {NoteKind::open, NoteKind::harmonic, NoteKind::fretted})
            check_back(kind);
        for (const auto verdict : {Verdict::in_tolerance, Verdict::move, Verdict::measure_again})
            check_back(verdict);
        for (const auto code : all_warning_codes())
            check_back(code);
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("a name nobody gave is no kind of anything") {
        CHECK(!from_name<InstrumentKind>("banjo"));
        CHECK(!from_name<BenchQuantity>(""));
        CHECK(!from_name<Verdict>("Move"));
        CHECK(!from_name<WarningCode>("clipped "));
    }
}

}  // namespace midspan::test
