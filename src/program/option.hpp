// option.hpp: what a command and its options are, described once for help, man page and completions.
//
// Room: program. Pure. May include: everything.
#pragma once

#include <cstddef>
#include <span>
#include <string_view>

namespace midspan::program {

/// One option of a command.
struct Option {
    std::string_view name;      ///< "--tuning"
    std::string_view argument;  ///< "NOTES"; empty: a flag
    std::string_view help;      ///< a few words for `--help`
    std::string_view details;   ///< whole sentences for the man page
    std::string_view choices;   ///< all it can be, separated by blanks; empty: anything
    bool repeatable = false;
    std::string_view letter{};  ///< "-o"; empty: it has no short form
};

struct CommandDescription {
    std::string_view name;
    std::string_view usage;
    std::string_view summary;
    std::span<const Option> options;
    std::string_view operands;  ///< what stands behind the options, in words; may be empty
    std::string_view examples;  ///< runs that work in a fresh checkout, one a line
    std::string_view
        operand{};            ///< "RECORDING": a word that may stand behind the options, any number of times
    std::size_t by_name = 0;  ///< so many of the last options the help only names: they are seldom needed
};

}  // namespace midspan::program
