// warning_test.cpp: the codes as --json spells them.
#include "midspan/warning.hpp"

#include <doctest/doctest.h>

#include <set>

namespace midspan::test {

TEST_SUITE("properties") {
    TEST_CASE("every warning code has a name of its own") {
        std::set<std::string_view> names;
        for (const WarningCode code : all_warning_codes()) {
            CHECK(!code_name(code).empty());
            CHECK(names.insert(code_name(code)).second);
        }
        CHECK(code_name(WarningCode::order_contradicted) == "order_contradicted");
    }
}

}  // namespace midspan::test
