// big_letters.cpp: letters made of blocks, to be read from afar.
//
// Room: view. Pure.
#include "view/big_letters.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cctype>

namespace midspan {
namespace {

constexpr int height = 7;

struct Letter {
    char name;
    std::array<std::string_view, height> rows;
};

// clang-format off
constexpr std::array letters{
    Letter{'0', {".##.", "#..#", "#..#", "#..#", "#..#", "#..#", ".##."}},
    Letter{'1', {".#.", "##.", ".#.", ".#.", ".#.", ".#.", "###"}},
    Letter{'2', {".##.", "#..#", "...#", "..#.", ".#..", "#...", "####"}},
    Letter{'3', {"###.", "...#", "...#", ".##.", "...#", "...#", "###."}},
    Letter{'4', {"#..#", "#..#", "#..#", "####", "...#", "...#", "...#"}},
    Letter{'5', {"####", "#...", "#...", "###.", "...#", "...#", "###."}},
    Letter{'6', {".##.", "#...", "#...", "###.", "#..#", "#..#", ".##."}},
    Letter{'7', {"####", "...#", "..#.", "..#.", ".#..", ".#..", ".#.."}},
    Letter{'8', {".##.", "#..#", "#..#", ".##.", "#..#", "#..#", ".##."}},
    Letter{'9', {".##.", "#..#", "#..#", ".###", "...#", "...#", ".##."}},
    Letter{'A', {".##.", "#..#", "#..#", "####", "#..#", "#..#", "#..#"}},
    Letter{'B', {"###.", "#..#", "#..#", "###.", "#..#", "#..#", "###."}},
    Letter{'C', {".###", "#...", "#...", "#...", "#...", "#...", ".###"}},
    Letter{'D', {"###.", "#..#", "#..#", "#..#", "#..#", "#..#", "###."}},
    Letter{'E', {"####", "#...", "#...", "###.", "#...", "#...", "####"}},
    Letter{'F', {"####", "#...", "#...", "###.", "#...", "#...", "#..."}},
    Letter{'G', {".###", "#...", "#...", "#.##", "#..#", "#..#", ".###"}},
    Letter{'H', {"#..#", "#..#", "#..#", "####", "#..#", "#..#", "#..#"}},
    Letter{'I', {"###", ".#.", ".#.", ".#.", ".#.", ".#.", "###"}},
    Letter{'J', {"..##", "...#", "...#", "...#", "...#", "#..#", ".##."}},
    Letter{'K', {"#..#", "#..#", "#.#.", "##..", "#.#.", "#..#", "#..#"}},
    Letter{'L', {"#...", "#...", "#...", "#...", "#...", "#...", "####"}},
    Letter{'M', {"#...#", "##.##", "#.#.#", "#.#.#", "#...#", "#...#", "#...#"}},
    Letter{'N', {"#...#", "##..#", "##..#", "#.#.#", "#..##", "#..##", "#...#"}},
    Letter{'O', {".##.", "#..#", "#..#", "#..#", "#..#", "#..#", ".##."}},
    Letter{'P', {"###.", "#..#", "#..#", "###.", "#...", "#...", "#..."}},
    Letter{'Q', {".##.", "#..#", "#..#", "#..#", "#..#", "#.#.", ".#.#"}},
    Letter{'R', {"###.", "#..#", "#..#", "###.", "#.#.", "#..#", "#..#"}},
    Letter{'S', {".###", "#...", "#...", ".##.", "...#", "...#", "###."}},
    Letter{'T', {"#####", "..#..", "..#..", "..#..", "..#..", "..#..", "..#.."}},
    Letter{'U', {"#..#", "#..#", "#..#", "#..#", "#..#", "#..#", ".##."}},
    Letter{'V', {"#...#", "#...#", "#...#", ".#.#.", ".#.#.", "..#..", "..#.."}},
    Letter{'W', {"#...#", "#...#", "#...#", "#.#.#", "#.#.#", "##.##", "#...#"}},
    Letter{'X', {"#...#", "#...#", ".#.#.", "..#..", ".#.#.", "#...#", "#...#"}},
    Letter{'Y', {"#...#", "#...#", ".#.#.", "..#..", "..#..", "..#..", "..#.."}},
    Letter{'Z', {"####", "...#", "..#.", "..#.", ".#..", "#...", "####"}},
    Letter{'.', {".", ".", ".", ".", ".", ".", "#"}},
    Letter{',', {"..", "..", "..", "..", "..", ".#", "#."}},
    Letter{':', {".", ".", "#", ".", ".", "#", "."}},
    Letter{'/', {"...#", "...#", "..#.", "..#.", ".#..", ".#..", "#..."}},
    Letter{'-', {"...", "...", "...", "###", "...", "...", "..."}},
    Letter{'+', {"...", "...", ".#.", "###", ".#.", "...", "..."}},
    Letter{'#', {".#.#.", ".#.#.", "#####", ".#.#.", "#####", ".#.#.", ".#.#."}},
    Letter{' ', {"..", "..", "..", "..", "..", "..", ".."}},
};
// clang-format on

const Letter& letter(char name) {
    const char capital = static_cast<char>(std::toupper(static_cast<unsigned char>(name)));
    const auto found = std::find_if(letters.begin(), letters.end(),
                                    [capital](const Letter& l) { return l.name == capital; });
    return found != letters.end() ? *found : letters.back();
}

/// The dots of a line of text, one column between two letters.
std::array<std::string, height> dots_of(std::string_view text) {
    std::array<std::string, height> dots;
    for (const char name : text) {
        const Letter& drawn = letter(name);
        for (std::size_t row = 0; row < dots.size(); ++row) {
            if (!dots[row].empty()) dots[row] += '.';
            dots[row] += drawn.rows[row];
        }
    }
    return dots;
}

}  // namespace

int big_columns(std::string_view text, int scale) {
    return scale * static_cast<int>(dots_of(text).front().size());
}

std::vector<std::string> big_letters(std::string_view text, int scale, bool utf8) {
    assert(scale >= 1);
    const auto dots = dots_of(text);
    const auto dot = [&](int row, std::size_t column) {
        const int of = row / scale;
        return of < height &&
               dots[static_cast<std::size_t>(of)][column / static_cast<std::size_t>(scale)] == '#';
    };
    std::vector<std::string> rows;
    const auto columns = static_cast<std::size_t>(big_columns(text, scale));
    for (int row = 0; row < big_rows(scale); ++row) {
        std::string line;
        for (std::size_t column = 0; column < columns; ++column) {
            const bool upper = dot(2 * row, column);
            const bool lower = dot(2 * row + 1, column);
            if (upper && lower) {
                line += utf8 ? "\u2588" : "#";
            } else if (upper) {
                line += utf8 ? "\u2580" : "\"";
            } else if (lower) {
                line += utf8 ? "\u2584" : "o";
            } else {
                line += ' ';
            }
        }
        rows.push_back(std::move(line));
    }
    return rows;
}

}  // namespace midspan
