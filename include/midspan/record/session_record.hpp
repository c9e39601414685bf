// session_record.hpp: what a live session leaves in the record, and what the record gives to the next.
//
// Room: record. Pure. May include: ground to measurement.
#pragma once

#include <span>
#include <vector>

#include "midspan/measurement/bench_session.hpp"
#include "midspan/record/setup_record.hpp"

namespace midspan {

/// What a session or a measurement starts with. What has no uncertainty, or comes from no move, teaches
/// nothing and is left out.
[[nodiscard]] std::vector<KnownScrew> known_screws(std::span<const LearnedScrew> screws);

/// A reading for each round, the last of them the session's analysis(); the moves in between, as they were
/// advised and with what came of them; and what the screws have taught since `known`.
///
/// rounds_ended  when the first string left round 1, round 2 and so on; `now` where that is not known
[[nodiscard]] BenchWork work_of(const BenchSession& session, std::span<const KnownScrew> known,
                                std::span<const Moment> rounds_ended, const Moment& now);

}  // namespace midspan
