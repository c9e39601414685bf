// pluck_log.hpp: every pluck of a session, and whether it counts.
//
// Room: measurement, private. Pure. May include: ground, instrument to advice.
#pragma once

#include <optional>
#include <vector>

#include "midspan/measurement/bench_event.hpp"

namespace midspan {

struct LoggedPluck {
    Seconds start;
    std::optional<PitchReading> reading;
    std::optional<int> string;
    NoteKind kind = NoteKind::open;
    int round = 1;
    std::optional<Refusal> out;  ///< why it does not count
};

/// Plucks are known by when they began: channels of one recording hear the same pluck within 50 ms.
class PluckLog {
public:
    void add(LoggedPluck pluck) { plucks_.push_back(std::move(pluck)); }

    [[nodiscard]] std::vector<LoggedPluck>& plucks() { return plucks_; }
    [[nodiscard]] const std::vector<LoggedPluck>& plucks() const { return plucks_; }

    [[nodiscard]] const LoggedPluck* at(Seconds start) const;

    /// The last that counts; of one string, or of all.
    [[nodiscard]] LoggedPluck* last(std::optional<int> string);

    /// How many of a kind count, of a string.
    [[nodiscard]] int count(int string, NoteKind kind) const;

    /// The harmonic of a string that has no fretted note yet.
    [[nodiscard]] LoggedPluck* pending(int string);
    [[nodiscard]] const LoggedPluck* pending(int string) const;

private:
    std::vector<LoggedPluck> plucks_;
};

}  // namespace midspan
