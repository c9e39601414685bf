// trials.hpp: how often a test tries what it tries by chance.
//
// Room: tests/support.
#pragma once

namespace midspan::test {

/// `all` of them; with a sanitizer, which slows them down and looks into each, the first tenth.
constexpr int trials(int all) {
#if defined(MIDSPAN_SANITIZED)
    return (all + 9) / 10;
#else
    return all;
#endif
}

}  // namespace midspan::test
