// main.cpp: runs the command that was asked for and turns a fault into its exit code.
//
// Room: program. Edge: the screen.
#include <string>
#include <vector>

#include "program/command_line.hpp"
#include "program/exit_code.hpp"
#include "program/terminal.hpp"

namespace {

using namespace midspan::program;

midspan::Result<Outcome> run(const Command& command) {
    if (const auto* show = std::get_if<ShowText>(&command)) return Outcome{show->text, {}};
    if (const auto* options = std::get_if<DevicesOptions>(&command)) return devices(*options);
    if (const auto* options = std::get_if<ListenOptions>(&command)) {
        return listen(*options, screen_of_stdout());
    }
    if (const auto* options = std::get_if<PredictOptions>(&command)) {
        return predict(*options, screen_of_stdout());
    }
    Progress progress;
    return analyze(std::get<AnalyzeOptions>(command), screen_of_stdout(), progress);
}

int fail(const midspan::Error& error) {
    tell(error);
    return exit_code(error.fault);
}

}  // namespace

int main(int argc, char** argv) {
    settle_signals();
    const std::vector<std::string> arguments(argv + (argc > 0 ? 1 : 0), argv + argc);
    const midspan::Result<Command> command = parse_command_line(arguments);
    if (!command) return fail(command.error());
    const midspan::Result<Outcome> outcome = run(command.value());
    if (!outcome) return fail(outcome.error());
    if (const auto error = write_out(outcome.value().text)) return fail(*error);
    return outcome.value().error ? fail(*outcome.value().error) : measured;
}
