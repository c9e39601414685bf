// escaped_test.cpp: whatever a name is made of, it stays a name.
#include "view/escaped.hpp"

#include <doctest/doctest.h>

#include <string>

namespace midspan::test {

TEST_SUITE("properties") {
    TEST_CASE("what has a meaning in HTML loses it") {
        CHECK(escaped("<script>alert(\"x\" + 'y')</script> & co") ==
              "&lt;script&gt;alert(&quot;x&quot; + &#39;y&#39;)&lt;/script&gt; &amp; co");
    }

    TEST_CASE("letters of every script, line ends and tabs pass unchanged") {
        const std::string text = "Gitarre für Zoë\n吉他\tギター 🎸";
        CHECK(escaped(text) == text);
    }
}

TEST_SUITE("published") {
    // Unicode 15, table 3-7 (well-formed UTF-8 byte sequences), from memory: the first and the last of each
    // length are characters, what lies beside them is none.
    TEST_CASE("the bounds of UTF-8 are kept") {
        for (const char* character :
             {"\x7E", "\xC2\xA0", "\xDF\xBF", "\xE0\xA0\x80", "\xED\x9F\xBF", "\xEE\x80\x80", "\xEF\xBF\xBD",
              "\xF0\x90\x80\x80", "\xF4\x8F\xBF\xBD"}) {
            CAPTURE(character);
            CHECK(escaped(character) == character);
        }
        for (const char* wrong :
             {"\x80", "\xC1\xBF", "\xC2", "\xE0\x9F\xBF", "\xED\xA0\x80", "\xF0\x8F\xBF\xBF",
              "\xF4\x90\x80\x80", "\xF5\x80\x80\x80", "\xEF\xBF\xBE"}) {
            CAPTURE(wrong);
            CHECK(escaped(wrong).find(wrong) == std::string::npos);
            CHECK(escaped(wrong).starts_with("\xEF\xBF\xBD"));
        }
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("control characters and broken bytes are shown as unreadable, and what follows them is kept") {
        const std::string nothing = "\xEF\xBF\xBD";
        CHECK(escaped(std::string_view{"a\0b", 3}) == "a" + nothing + "b");
        CHECK(escaped("a\x1B[2Jb") == "a" + nothing + "[2Jb");
        CHECK(escaped("a\xFF<b") == "a" + nothing + "&lt;b");
        CHECK(escaped("a\xE2\x82") == "a" + nothing + nothing);
    }
}

}  // namespace midspan::test
