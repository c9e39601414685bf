// stated_neck.cpp: gauges as they are, heights brought to where the model counts them.
//
// Room: record. Pure.
#include "midspan/record/stated_neck.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <vector>

#include "midspan/advice/setup_prediction.hpp"
#include "midspan/instrument/fretboard.hpp"

namespace midspan {
namespace {

constexpr Millimetres thickest_sure_to_be_plain{0.6};

std::optional<StringGauge> gauge_of(const FittedString& fitted) {
    if (!fitted.gauge) return std::nullopt;
    if (!fitted.winding && *fitted.gauge >= thickest_sure_to_be_plain) return std::nullopt;
    const StringGauge gauge{*fitted.gauge, fitted.winding == Winding::wound, fitted.core};
    return can_be_made(gauge) ? std::optional{gauge} : std::nullopt;
}

/// Height by string; 0 stands for all strings.
using Heights = std::map<int, Millimetres>;

std::optional<Millimetres> height_at(const Heights& heights, int string) {
    if (heights.empty()) return std::nullopt;
    if (const auto own = heights.find(string); own != heights.end()) return own->second;
    if (const auto all = heights.find(0); all != heights.end()) return all->second;
    const auto above = heights.lower_bound(string);
    if (above == heights.end()) return heights.rbegin()->second;
    if (above == heights.begin()) return above->second;
    const auto below = std::prev(above);
    const double share = static_cast<double>(string - below->first) / (above->first - below->first);
    return below->second + share * (above->second - below->second);
}

std::optional<Millimetres> action_of(const BenchMeasurement& m) {
    const bool plain = m.method.held.empty() && !m.method.last_fret_held && !m.method.capo;
    if (!plain || m.method.read_at.value_or(12) != 12) return std::nullopt;
    return m.value;
}

/// Of the string over the line of the frets at the nut.
std::optional<Millimetres> nut_height_of(const BenchMeasurement& m, Millimetres action) {
    if (m.method.capo || m.method.last_fret_held) return std::nullopt;
    if (m.method.read_at == 0 && m.method.held.empty()) return m.value;
    if (m.method.read_at != 1) return std::nullopt;
    const auto along = [](int fret) { return fret_position(fret, Millimetres{1.0}).value(); };
    if (m.method.held.empty()) {
        // A straight line from the nut through fret 1 to fret 12, mid-way along the string.
        const double share = along(1) / along(12);
        return (1.0 / (1.0 - share)) * (m.value - share * action);
    }
    if (m.method.held.size() != 1 || m.method.held.front() < 2) return std::nullopt;
    return (1.0 / (1.0 - along(1) / along(m.method.held.front()))) * m.value;
}

/// The bow mid-way between frets 1 and 17, by a parabola between them; from there on the neck is straight. As
/// it was read, where nobody said what the string was held by.
Millimetres relief_of(const BenchMeasurement& m) {
    static constexpr int bow_begins = 1;
    static constexpr int bow_ends = 17;
    std::vector<int> ends = m.method.held;
    if (m.method.capo) ends.push_back(*m.method.capo);
    if (m.method.last_fret_held) ends.push_back(bow_ends);
    if (ends.size() < 2 || !m.method.read_at) return m.value;
    const auto [lowest, highest] = std::minmax_element(ends.begin(), ends.end());
    const auto along = [](int fret) {
        return fret_position(std::clamp(fret, bow_begins, bow_ends), Millimetres{1.0}).value();
    };
    const double from = along(*lowest);
    const double to = along(*highest);
    const double at = along(*m.method.read_at);
    if (!(from < at && at < to)) return m.value;
    const double half = 0.5 * (along(bow_ends) - along(bow_begins));
    return (half * half / ((at - from) * (to - at))) * m.value;
}

/// The last of a quantity, by string, from the newest visit that has it.
template <class Taken>
Heights newest(std::span<const Visit> visits, BenchQuantity quantity, Taken taken) {
    for (auto visit = visits.rbegin(); visit != visits.rend(); ++visit) {
        Heights heights;
        for (const BenchMeasurement& m : visit->measurements) {
            if (m.quantity != quantity || m.removed_at) continue;
            const std::optional<Millimetres> height = taken(m);
            if (!height) continue;
            if (!m.string) heights.clear();
            heights.insert_or_assign(m.string.value_or(0), *height);
        }
        if (!heights.empty()) return heights;
    }
    return {};
}

}  // namespace

StatedNeck stated_neck(const InstrumentEntry& entry, std::span<const Visit> visits) {
    const Heights actions = newest(visits, BenchQuantity::action, action_of);
    const Heights nuts = newest(visits, BenchQuantity::nut_height, [&](const BenchMeasurement& m) {
        return nut_height_of(m, height_at(actions, m.string.value_or(1)).value_or(usual_action));
    });
    const Heights reliefs = newest(visits, BenchQuantity::relief,
                                   [](const BenchMeasurement& m) { return std::optional{relief_of(m)}; });
    StatedNeck neck;
    for (const InstrumentString& string : entry.instrument.strings) {
        StatedString stated{
            string.number, {}, height_at(actions, string.number), height_at(nuts, string.number)};
        const auto index = static_cast<std::size_t>(string.number - 1);
        if (index < entry.fitted.size()) stated.gauge = gauge_of(entry.fitted[index]);
        neck.strings.push_back(stated);
    }
    if (!reliefs.empty()) neck.relief = reliefs.rbegin()->second;
    return neck;
}

}  // namespace midspan
