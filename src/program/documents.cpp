// documents.cpp: one description of an option, told in four ways.
//
// Room: program. Pure.
#include "program/documents.hpp"

#include <fmt/format.h>

#include <string_view>

#include "view/columns.hpp"

namespace midspan::program {
namespace {

constexpr std::size_t help_column = 24;

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

std::string command_names(std::span<const CommandDescription> commands) {
    std::string names;
    for (const CommandDescription& command : commands)
        names += std::string{command.name} + ' ';
    return names + "--help --version";
}

/// One line for zsh's _arguments.
std::string zsh_argument(const Option& option) {
    const std::string help = replaced(replaced(replaced(option.help, '\'', "'\\''"), '[', "\\["), ']', "\\]");
    const std::string text = replaced(help, ':', "\\:");
    std::string value;
    if (!option.choices.empty()) {
        value = fmt::format(":{}:({})", option.argument, option.choices);
    } else if (option.argument == "FILE") {
        value = ":FILE:_files";
    } else if (!option.argument.empty()) {
        value = fmt::format(":{}: ", option.argument);
    }
    return fmt::format("'{}{}[{}]{}'", option.repeatable ? "*" : "", option.name, text, value);
}

}  // namespace

std::string help_of(const CommandDescription& command) {
    std::string text = fmt::format("Usage: midspan {}\n{}\n\n", command.usage, command.summary);
    for (const Option& option : command.options) {
        text += padded(fmt::format("  {} {}", option.name, option.argument), help_column) +
                std::string{option.help} + '\n';
    }
    text += padded("  -h, --help", help_column) + "this help\n";
    if (!command.operands.empty()) text += std::string{command.operands} + '\n';
    return text + fmt::format("Examples:\n{}", command.examples);
}

std::string help_of(std::span<const CommandDescription> commands) {
    std::string text =
        "Usage: midspan COMMAND ...\n"
        "Measures intonation at the 12th fret and says how far to move each saddle.\n\n";
    for (const CommandDescription& command : commands) {
        text += fmt::format("  {}\n      {}\n", command.usage, command.summary);
    }
    text += "  --version\n      the version\n";
    text += "  -h, --help\n      this help; midspan COMMAND --help tells more\nExamples:\n";
    for (const CommandDescription& command : commands)
        text += command.examples;
    return text;
}

std::string man_options(std::span<const CommandDescription> commands) {
    std::string text = ".SH OPTIONS\n";
    for (const CommandDescription& command : commands) {
        text += fmt::format(".SS midspan {}\n", command.name);
        for (const Option& option : command.options) {
            text += fmt::format(".TP\n\\fB{}\\fR", troff(option.name));
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
        "    local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} words=\n"
        "    COMPREPLY=()\n"
        "    if ((COMP_CWORD == 1)); then\n";
    text += fmt::format("        words='{}'\n    else\n        case ${{COMP_WORDS[1]}}:$before in\n",
                        command_names(commands));
    for (const CommandDescription& command : commands) {
        for (const Option& option : command.options) {
            if (option.choices.empty()) continue;
            text +=
                fmt::format("            {}:{}) words='{}' ;;\n", command.name, option.name, option.choices);
        }
        text += fmt::format("            {}:*) if [[ $word == -* ]]; then words='{}'; fi ;;\n", command.name,
                            option_names(command));
    }
    return text +
           "        esac\n"
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
        "if ((CURRENT == 2)); then\n";
    text += fmt::format("    compadd -- {}\n    return\nfi\n", command_names(commands));
    text += "local command=$words[2]\nshift words\n((CURRENT--))\ncase $command in\n";
    for (const CommandDescription& command : commands) {
        text += fmt::format("    {})\n        _arguments \\\n", command.name);
        for (const Option& option : command.options) {
            text += fmt::format("            {} \\\n", zsh_argument(option));
        }
        text += "            '(-h --help)'{-h,--help}'[this help]'";
        if (!command.operand.empty()) text += fmt::format(" \\\n            '*:{}:_files'", command.operand);
        text += "\n        ;;\n";
    }
    return text + "esac\n";
}

}  // namespace midspan::program
