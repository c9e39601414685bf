// main.cpp: runs the command that was asked for and turns a fault into its exit code.
//
// Room: program. Edge: the screen.
#include <string>
#include <variant>
#include <vector>

#include "program/command_line.hpp"
#include "program/exit_code.hpp"
#include "program/terminal.hpp"

namespace {

using namespace midspan::program;

midspan::Result<Outcome> run(const ShowText& command) { return Outcome{command.text, {}}; }
midspan::Result<Outcome> run(const DevicesOptions& command) { return devices(command); }
midspan::Result<Outcome> run(const ListenOptions& command, const Screen& screen) {
    return listen(command, screen);
}
midspan::Result<Outcome> run(const PredictOptions& command, const Screen& screen) {
    return predict(command, screen);
}
midspan::Result<Outcome> run(const AnalyzeOptions& command, const Screen& screen) {
    Progress progress;
    return analyze(command, screen, progress);
}
midspan::Result<Outcome> run(const SurveyCommandOptions& command, const Screen& screen) {
    Progress progress;
    return survey(command, screen, progress);
}

/// Every command has a run() for its options; some want to know the screen.
midspan::Result<Outcome> run_any(const Command& command) {
    return std::visit(
        [](const auto& options) -> midspan::Result<Outcome> {
            if constexpr (requires { run(options, Screen{}); }) {
                return run(options, screen_of_stdout());
            } else {
                return run(options);
            }
        },
        command);
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
    const midspan::Result<Outcome> outcome = run_any(command.value());
    if (!outcome) return fail(outcome.error());
    if (const auto error = write_out(outcome.value().text)) return fail(*error);
    if (!outcome.value().notice.empty()) tell(outcome.value().notice);
    return outcome.value().error ? fail(*outcome.value().error) : measured;
}
