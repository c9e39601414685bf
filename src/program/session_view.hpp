// session_view.hpp: where a session at the bench is shown, and where keys come from.
//
// Room: program. Edge: the screen. May include: everything.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <string>

#include "midspan/instrument/instrument.hpp"
#include "midspan/measurement/bench_event.hpp"
#include "midspan/result.hpp"
#include "midspan/view/look.hpp"
#include "midspan/warning.hpp"

namespace midspan::program {

/// What somebody with a free hand may ask for.
enum class SessionKey { undo_pluck, restart_string, finish };

class SessionView {
public:
    virtual ~SessionView() = default;

    /// Called after every block of sound, events or not. Fails when nothing can be written any more.
    [[nodiscard]] virtual std::optional<Error> show(std::span<const BenchEvent> events,
                                                    const BenchState& state) = 0;

    /// Something the microphone knows and the samples do not show.
    [[nodiscard]] virtual std::optional<Error> show(const Warning& warning) = 0;

    /// The next key that was pressed; never waits.
    [[nodiscard]] virtual std::optional<SessionKey> key() { return std::nullopt; }
};

/// A line an event, for people.
///
/// source      what is listened to, in words
/// instrument  has to outlive the view
[[nodiscard]] std::unique_ptr<SessionView> lines_view(std::string source, const Instrument& instrument,
                                                      Look look);

/// An object a line and event, for programs.
[[nodiscard]] std::unique_ptr<SessionView> json_view();

}  // namespace midspan::program
