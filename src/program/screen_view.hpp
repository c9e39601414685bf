// screen_view.hpp: a session on the whole terminal.
//
// Room: program. Edge: the terminal. May include: everything.
#pragma once

#include <memory>

#include "midspan/measurement/bench_session.hpp"
#include "midspan/view/look.hpp"
#include "program/session_view.hpp"

namespace midspan::program {

/// Nothing where stdin or stdout is no terminal that can be drawn on.
///
/// session  has to outlive the view
[[nodiscard]] std::unique_ptr<SessionView> screen_view(const BenchSession& session, Look look);

}  // namespace midspan::program
