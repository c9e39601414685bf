// pluck_log.cpp: every pluck of a session, and whether it counts.
//
// Room: measurement. Pure. May include: ground, instrument to advice.
#include "measurement/pluck_log.hpp"

#include <algorithm>
#include <utility>

namespace midspan {
namespace {

constexpr Seconds same_pluck{0.05};

}  // namespace

const LoggedPluck* PluckLog::at(Seconds start) const {
    const auto found = std::find_if(plucks_.begin(), plucks_.end(), [start](const LoggedPluck& pluck) {
        return magnitude(pluck.start - start) < same_pluck;
    });
    return found == plucks_.end() ? nullptr : &*found;
}

LoggedPluck* PluckLog::last(std::optional<int> string) {
    const auto found = std::find_if(plucks_.rbegin(), plucks_.rend(), [string](const LoggedPluck& pluck) {
        return !pluck.out && (!string || pluck.string == string);
    });
    return found == plucks_.rend() ? nullptr : &*found;
}

int PluckLog::count(int string, NoteKind kind) const {
    return static_cast<int>(
        std::count_if(plucks_.begin(), plucks_.end(), [string, kind](const LoggedPluck& pluck) {
            return !pluck.out && pluck.string == string && pluck.kind == kind;
        }));
}

LoggedPluck* PluckLog::pending(int string) {
    return const_cast<LoggedPluck*>(std::as_const(*this).pending(string));
}

const LoggedPluck* PluckLog::pending(int string) const {
    if (count(string, NoteKind::harmonic) <= count(string, NoteKind::fretted)) return nullptr;
    const auto found = std::find_if(plucks_.rbegin(), plucks_.rend(), [string](const LoggedPluck& pluck) {
        return !pluck.out && pluck.string == string && pluck.kind == NoteKind::harmonic;
    });
    return &*found;
}

}  // namespace midspan
