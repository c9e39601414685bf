// session_view.cpp: a session on stdout, where no screen can be drawn.
//
// Room: program. Edge: the screen.
#include "program/session_view.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <utility>

#include "midspan/view/bench_events.hpp"
#include "program/terminal.hpp"
#include "view/columns.hpp"

namespace midspan::program {
namespace {

class LinesView : public SessionView {
public:
    LinesView(std::string source, const Instrument& instrument, Look look)
        : beginning_{fmt::format("Listening to {}. Ctrl-C ends it with the result.\n", source)},
          instrument_{instrument},
          look_{look} {}

    std::optional<Error> show(std::span<const BenchEvent> events, const BenchState&) override {
        std::string text = std::exchange(beginning_, {});
        for (const BenchEvent& event : events)
            text += bench_event_line(event, instrument_, look_);
        return write_out(text);
    }

    std::optional<Error> show(const Warning& warning) override {
        return write_out(std::exchange(beginning_, {}) + paragraph("Warning: ", warning.message));
    }

private:
    std::string beginning_;
    const Instrument& instrument_;
    Look look_;
};

class JsonView : public SessionView {
public:
    std::optional<Error> show(std::span<const BenchEvent> events, const BenchState&) override {
        std::string text;
        for (const BenchEvent& event : events)
            text += bench_event_json(event);
        return write_out(text);
    }

    std::optional<Error> show(const Warning& warning) override {
        const nlohmann::ordered_json object{{"schema", "midspan/event/1"},
                                            {"event", "warning"},
                                            {"at_s", warning.at ? warning.at->value() : 0.0},
                                            {"code", code_name(warning.code)},
                                            {"message", warning.message}};
        return write_out(object.dump(-1, ' ', false, nlohmann::ordered_json::error_handler_t::replace) +
                         '\n');
    }
};

}  // namespace

std::unique_ptr<SessionView> lines_view(std::string source, const Instrument& instrument, Look look) {
    return std::make_unique<LinesView>(std::move(source), instrument, look);
}

std::unique_ptr<SessionView> json_view() { return std::make_unique<JsonView>(); }

}  // namespace midspan::program
