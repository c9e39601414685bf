// screen_view.cpp: a session on the whole terminal, drawn when something has happened.
//
// Room: program. Edge: the terminal.
#include "program/screen_view.hpp"

#include <utility>
#include <variant>

#include "program/bench_screen.hpp"

namespace midspan::program {
namespace {

class ScreenView : public SessionView {
public:
    ScreenView(const BenchSession& session, std::unique_ptr<BenchScreen> screen)
        : session_{session}, screen_{std::move(screen)} {}

    std::optional<Error> show(std::span<const BenchEvent> events, const BenchState&) override {
        for (const BenchEvent& event : events) {
            if (std::holds_alternative<FinishedNote>(event.what)) screen_->set_notice({});
        }
        if (!events.empty()) screen_->show(session_);
        return std::nullopt;
    }

    /// Until the next note that counts.
    std::optional<Error> show(const Warning& warning) override {
        screen_->set_notice(warning.message);
        screen_->show(session_);
        return std::nullopt;
    }

    std::optional<SessionKey> key() override {
        switch (screen_->key()) {
            case BenchKey::none:
                return std::nullopt;
            case BenchKey::undo:
                return SessionKey::undo_pluck;
            case BenchKey::restart:
                return SessionKey::restart_string;
            case BenchKey::finish:
                return SessionKey::finish;
        }
        return std::nullopt;
    }

private:
    const BenchSession& session_;
    std::unique_ptr<BenchScreen> screen_;
};

}  // namespace

std::unique_ptr<SessionView> screen_view(const BenchSession& session, Look look) {
    std::unique_ptr<BenchScreen> screen = BenchScreen::open(look);
    if (!screen) return nullptr;
    return std::make_unique<ScreenView>(session, std::move(screen));
}

}  // namespace midspan::program
