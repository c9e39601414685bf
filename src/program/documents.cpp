// documents.cpp: one description of an option, told in four ways.
//
// Room: program. Pure.
#include "program/documents.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <string_view>

#include "view/columns.hpp"

namespace midspan::program {
namespace {

constexpr std::size_t help_column = 24;
constexpr std::size_t command_column = 14;

std::string replaced(std::string_view text, char what, std::string_view by) {
    std::string result;
    for (const char c : text) {
        if (c == what) {
            result += by;
        } else {
            result += c;
        }
    }
    return result;
}

/// In a man page a bare '-' may become a hyphen, and a '.' or ''' that begins a line a request.
std::string troff(std::string_view text) {
    std::string result = replaced(replaced(text, '\\', "\\e"), '-', "\\-");
    if (!result.empty() && (result.front() == '.' || result.front() == '\'')) result.insert(0, "\\&");
    return result;
}

std::string option_names(const CommandDescription& command) {
    std::string names;
    for (const Option& option : command.options)
        names += std::string{option.name} + ' ';
    return names + "--help";
}

std::string_view first_word(const CommandDescription& command) {
    return command.name.substr(0, command.name.find(' '));
}

/// Each once, in their order.
std::vector<std::string_view> first_words(std::span<const CommandDescription> commands) {
    std::vector<std::string_view> words;
    for (const CommandDescription& command : commands) {
        const std::string_view first = first_word(command);
        if (std::find(words.begin(), words.end(), first) == words.end()) words.push_back(first);
    }
    return words;
}

std::string command_names(std::span<const CommandDescription> commands) {
    return fmt::format("{} --help --version", fmt::join(first_words(commands), " "));
}

/// Whether a word that is the name of an instrument may stand behind this.
bool wants_instrument(const CommandDescription& command) {
    return command.operand == "NAME" || command.operand == "INSTRUMENT";
}
bool wants_instrument(const Option& option) { return option.name == "--instrument"; }

/// One line for zsh's _arguments.
std::string zsh_argument(const Option& option) {
    const std::string help = replaced(replaced(replaced(option.help, '\'', "'\\''"), '[', "\\["), ']', "\\]");
    const std::string text = replaced(help, ':', "\\:");
    std::string value;
    if (!option.choices.empty()) {
        value = fmt::format(":{}:({})", option.argument, option.choices);
    } else if (wants_instrument(option)) {
        value = ":NAME:_midspan_instruments";
    } else if (option.argument == "FILE") {
        value = ":FILE:_files";
    } else if (!option.argument.empty()) {
        value = fmt::format(":{}: ", option.argument);
    }
    if (!option.letter.empty())
        return fmt::format("'({0} {1})'{{{0},{1}}}'[{2}]{3}'", option.letter, option.name, text, value);
    return fmt::format("'{}{}[{}]{}'", option.repeatable ? "*" : "", option.name, text, value);
}

}  // namespace

std::string help_of(const CommandDescription& command) {
    std::string text = fmt::format("Usage: midspan {}\n{}\n\n", command.usage, command.summary);
    const std::size_t told = command.options.size() - command.by_name;
    for (const Option& option : command.options.first(told)) {
        const std::string letter = option.letter.empty() ? "" : fmt::format("{}, ", option.letter);
        text += padded(fmt::format("  {}{} {}", letter, option.name, option.argument), help_column) +
                std::string{option.help} + '\n';
    }
    text += padded("  -h, --help", help_column) + "this help\n";
    if (command.by_name > 0) {
        text += "In the manual:";
        for (const Option& option : command.options.subspan(told))
            text += fmt::format(" {}", option.name);
        text += '\n';
    }
    if (!command.operands.empty()) text += std::string{command.operands} + '\n';
    return text + fmt::format("Examples:\n{}", command.examples);
}

std::vector<std::string_view> second_words(std::span<const CommandDescription> commands,
                                           std::string_view first) {
    std::vector<std::string_view> words;
    for (const CommandDescription& command : commands) {
        if (command.name.size() > first.size() && command.name.starts_with(first) &&
            command.name[first.size()] == ' ') {
            words.push_back(command.name.substr(first.size() + 1));
        }
    }
    return words;
}

std::string help_of(std::span<const CommandDescription> commands) {
    std::string text =
        "Usage: midspan COMMAND ...\n"
        "Measures intonation at the 12th fret and says how far to move each saddle.\n\n";
    for (const std::string_view first : first_words(commands)) {
        const auto found = std::find_if(commands.begin(), commands.end(),
                                        [first](const auto& command) { return command.name == first; });
        const std::string said = found != commands.end()
                                     ? std::string{found->summary}
                                     : fmt::format("{}", fmt::join(second_words(commands, first), ", "));
        text += padded(fmt::format("  {}", first), command_column) + said + '\n';
    }
    text += padded("  --version", command_column) + "The version.\n";
    text += padded("  -h, --help", command_column) + "This help; midspan COMMAND --help tells more.\n";
    return text + fmt::format("Examples:\n{}", commands.front().examples);
}

std::string help_of(std::span<const CommandDescription> commands, std::string_view first) {
    std::string text = fmt::format("Usage: midspan {} COMMAND ...\n\n", first);
    std::string examples;
    for (const CommandDescription& command : commands) {
        if (first_word(command) != first) continue;
        text += fmt::format("  {}\n      {}\n", command.usage, command.summary);
        if (examples.empty()) examples = command.examples;
    }
    return text + "  -h, --help\n      this help; with a command it tells more\nExamples:\n" + examples;
}

std::string man_options(std::span<const CommandDescription> commands) {
    std::string text = ".SH OPTIONS\n";
    for (const CommandDescription& command : commands) {
        text += fmt::format(".SS midspan {}\n", command.name);
        for (const Option& option : command.options) {
            text += ".TP\n";
            if (!option.letter.empty()) text += fmt::format("\\fB{}\\fR, ", troff(option.letter));
            text += fmt::format("\\fB{}\\fR", troff(option.name));
            if (!option.argument.empty()) text += fmt::format(" \\fI{}\\fR", troff(option.argument));
            text += '\n' + troff(option.details) + '\n';
        }
        text += ".TP\n\\fB\\-h\\fR, \\fB\\-\\-help\\fR\nShow a short help and end.\n";
    }
    return text;
}

std::string bash_completion(std::span<const CommandDescription> commands) {
    std::string text =
        "# midspan.bash: completion for bash, made from the descriptions of the options.\n"
        "_midspan() {\n"
        "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} words= names=\n"
        "    local command=${COMP_WORDS[1]} at=1\n"
        "    COMPREPLY=()\n"
        "    case $command in\n";
    for (const std::string_view first : first_words(commands)) {
        const auto second = second_words(commands, first);
        if (second.empty()) continue;
        text += fmt::format("        {}) at=2 command+=\" ${{COMP_WORDS[2]}}\" words='{}' ;;\n", first,
                            fmt::join(second, " "));
    }
    text += fmt::format(
        "    esac\n    if ((COMP_CWORD == 1)); then\n        words='{}'\n    elif ((COMP_CWORD > at)); then\n"
        "        words=\n        case $command:$before in\n",
        command_names(commands));
    for (const CommandDescription& command : commands) {
        for (const Option& option : command.options) {
            if (wants_instrument(option)) {
                text += fmt::format("            '{}':{}) names=1 ;;\n", command.name, option.name);
            } else if (!option.choices.empty()) {
                text += fmt::format("            '{}':{}) words='{}' ;;\n", command.name, option.name,
                                    option.choices);
            }
        }
        text +=
            fmt::format("            '{}':*) if [[ $word == -* ]]; then words='{}'{}; fi ;;\n", command.name,
                        option_names(command), wants_instrument(command) ? "; else names=1" : "");
    }
    return text +
           "        esac\n"
           "    fi\n"
           "    if [[ $names ]]; then\n"
           "        # What was typed of a name may begin with a quote; what is offered is fit to be typed.\n"
           "        local name plain=${word#[\\'\\\"]}\n"
           "        while IFS= read -r name; do\n"
           "            if [[ $name == \"${plain//\\\\/}\"* ]]; then COMPREPLY+=(\"$(printf %q "
           "\"$name\")\"); fi\n"
           "        done < <(midspan instrument list --names 2>/dev/null)\n"
           "        return\n"
           "    fi\n"
           "    # shellcheck disable=SC2207  # no word of ours holds a blank\n"
           "    COMPREPLY=($(compgen -W \"$words\" -- \"$word\"))\n"
           "}\n"
           "# Where nothing fits, a file is meant.\n"
           "complete -o default -F _midspan midspan\n";
}

std::string zsh_completion(std::span<const CommandDescription> commands) {
    std::string text =
        "#compdef midspan\n"
        "# _midspan: completion for zsh, made from the descriptions of the options.\n"
        "_midspan_instruments() {\n"
        "    local -a names=(\"${(@f)$(midspan instrument list --names 2>/dev/null)}\")\n"
        "    compadd -a names\n"
        "    _files\n"
        "}\n"
        "if ((CURRENT == 2)); then\n";
    text += fmt::format("    compadd -- {}\n    return\nfi\n", command_names(commands));
    text += "local command=$words[2]\nshift words\n((CURRENT--))\ncase $command in\n";
    for (const std::string_view first : first_words(commands)) {
        const auto second = second_words(commands, first);
        if (second.empty()) continue;
        text += fmt::format("    {})\n        if ((CURRENT == 2)); then\n            compadd -- {}\n", first,
                            fmt::join(second, " "));
        text +=
            "            return\n        fi\n        command+=\" $words[2]\"\n        shift words\n"
            "        ((CURRENT--))\n        ;;\n";
    }
    text += "esac\ncase $command in\n";
    for (const CommandDescription& command : commands) {
        text += fmt::format("    '{}')\n        _arguments \\\n", command.name);
        for (const Option& option : command.options) {
            text += fmt::format("            {} \\\n", zsh_argument(option));
        }
        text += "            '(-h --help)'{-h,--help}'[this help]'";
        if (!command.operand.empty()) {
            text += fmt::format(" \\\n            '*:{}:{}'", command.operand,
                                wants_instrument(command) ? "_midspan_instruments" : "_files");
        }
        text += "\n        ;;\n";
    }
    return text + "esac\n";
}

}  // namespace midspan::program
