// columns_test.cpp: text that keeps to its columns.
#include "view/columns.hpp"

#include <doctest/doctest.h>

namespace midspan::test {

TEST_SUITE("properties") {
    TEST_CASE("a character of several bytes takes one column") {
        CHECK(columns("±2") == 2);
        CHECK(padded("±2", 4) == "±2  ");
    }
    TEST_CASE("text breaks at spaces, and a word too long for the line has one of its own") {
        CHECK(broken("a bb ccc", 4) == std::vector<std::string>{"a bb", "ccc"});
        CHECK(broken("a abcdefgh b", 4) == std::vector<std::string>{"a", "abcdefgh", "b"});
        CHECK(broken("", 4).empty());
    }
    TEST_CASE("printable text moves no cursor and keeps its letters") {
        CHECK(printable("a\x1b[2Jb\nc\x7f") == "a?[2Jb?c?");
        CHECK(printable("Müller 1.wav") == "Müller 1.wav");
    }
    TEST_CASE("a paragraph hangs under its first line") {
        const std::string words(78, 'x');
        CHECK(paragraph("- ", words + " y") == "- " + words + "\n  y\n");
    }
}

}  // namespace midspan::test
