// pluck_finder.hpp: from a stream of samples to plucks.
//
// Room: notes. Pure. May include: ground.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <span>

#include "midspan/notes/pluck.hpp"
#include "midspan/units.hpp"

namespace midspan {

/// Finds plucks in one channel of a recording, block by block.
///
/// A pluck is a sudden rise that is followed by a ringing tone. Thumps, squeaks, talk and hum are not;
/// a thump into a ringing note does not make a second pluck, a re-pluck of the same string does. How the
/// stream is cut into blocks never changes the result. Memory is fixed: a note is kept for at most 10 s.
/// Nothing is allocated after construction.
class PluckFinder {
public:
    using Found = std::function<void(const Pluck&)>;

    /// sample_rate  of the stream, 8,000 to 192,000 Hz
    /// lowest       the lowest frequency a string may sound at, > 20 Hz
    PluckFinder(Hertz sample_rate, Hertz lowest);
    ~PluckFinder();
    PluckFinder(PluckFinder&&) noexcept;
    PluckFinder& operator=(PluckFinder&&) noexcept;

    /// The next samples, oldest first; calls `found` for every pluck that has ended.
    void feed(std::span<const float> samples, const Found& found);

    /// There is no more; calls `found` for a pluck that still rings.
    void finish(const Found& found);

    /// The pluck that rings now, as far as it has come.
    [[nodiscard]] std::optional<Pluck> ringing() const;

private:
    class Work;
    std::unique_ptr<Work> work_;
};

}  // namespace midspan
