// words.cpp: CLI11 knows how options may be written; all else is left to whoever asked.
//
// Room: program. Pure.
#include "program/words.hpp"

#include <fmt/format.h>

#include <CLI/CLI.hpp>
#include <algorithm>
#include <cmath>

namespace midspan::program {
namespace {

/// One line of what CLI11 has to say.
std::string first_line(std::string_view text) { return std::string{text.substr(0, text.find('\n'))}; }

std::string see_help(const CommandDescription& command) {
    return fmt::format("see midspan {} --help", command.name);
}

}  // namespace

Error usage(std::string subject, std::string problem, std::string remedy) {
    return {Fault::usage, std::move(subject), std::move(problem), std::move(remedy)};
}

Result<Words> sorted(const CommandDescription& command, std::span<const std::string> arguments) {
    CLI::App app;
    app.set_help_flag();
    app.allow_extras();
    Words words;
    for (const Option& option : command.options) {
        auto& values = words[option.name];
        const std::string name{option.name};
        if (option.argument.empty()) {
            app.add_flag_callback(name, [&values] { values.emplace_back(); });
        } else {
            const std::string letter{option.letter};
            app.add_option(letter.empty() ? name : letter + ',' + name, values)->allow_extra_args(false);
        }
    }
    app.add_flag_callback("-h,--help", [&help = words["--help"]] { help.emplace_back(); });
    auto& operands = words[""];
    if (!command.operand.empty()) app.add_option(std::string{command.operand}, operands);

    std::vector<std::string> reversed(arguments.rbegin(), arguments.rend());
    try {
        app.parse(reversed);
    } catch (const CLI::ArgumentMismatch& mismatch) {
        const std::string said = first_line(mismatch.what());
        return usage(said.substr(0, said.find(':')), "needs one value", see_help(command));
    } catch (const CLI::ParseError& error) {
        return usage("command line", first_line(error.what()), see_help(command));
    }
    const std::vector<std::string> left = app.remaining();
    const auto unknown = std::find_if(left.begin(), left.end(), [](const auto& w) { return w != "--"; });
    if (words["--help"].empty() && unknown != left.end()) {
        const bool option = unknown->starts_with('-') || !command.operand.empty();
        return usage(*unknown, option ? "no such option" : "one word too many", see_help(command));
    }
    for (const Option& option : command.options) {
        if (!option.repeatable && !option.argument.empty() && words[option.name].size() > 1) {
            return usage(std::string{option.name}, "given more than once", "give it once");
        }
    }
    return words;
}

std::optional<std::string_view> word(const Words& words, std::string_view option) {
    const auto found = words.find(option);
    if (found == words.end() || found->second.empty()) return std::nullopt;
    return found->second.front();
}

std::vector<std::string_view> split(std::string_view list) {
    std::vector<std::string_view> parts;
    for (;;) {
        const std::size_t comma = list.find(',');
        parts.push_back(list.substr(0, comma));
        if (comma == std::string_view::npos) return parts;
        list.remove_prefix(comma + 1);
    }
}

Result<double> number_of(std::string_view option, std::string_view text, double least, double most,
                         std::string remedy) {
    const auto value = number<double>(text);
    const std::string subject = fmt::format("{} {}", option, text);
    if (!value || !std::isfinite(*value)) return usage(subject, "no number", std::move(remedy));
    if (*value < least || *value > most) {
        return usage(subject, fmt::format("outside {:g} to {:g}", least, most), std::move(remedy));
    }
    return *value;
}

Result<std::size_t> choice_of(std::string_view option, std::string_view text,
                              std::initializer_list<std::string_view> choices) {
    const auto found = std::find(choices.begin(), choices.end(), text);
    if (found != choices.end()) return static_cast<std::size_t>(found - choices.begin());
    return usage(fmt::format("{} {}", option, text), "no such choice",
                 fmt::format("write {}", fmt::join(choices, " or ")));
}

Result<LengthUnit> unit_of(const Words& words) {
    const auto text = word(words, "--units");
    if (!text) return LengthUnit::millimetres;
    const auto choice = choice_of("--units", *text, {"mm", "inch"});
    if (!choice) return choice.error();
    return choice.value() == 0 ? LengthUnit::millimetres : LengthUnit::inches;
}

}  // namespace midspan::program
