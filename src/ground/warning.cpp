// warning.cpp: the codes and their spelling.
//
// Room: ground. Pure.
#include "midspan/warning.hpp"

#include <array>
#include <cassert>
#include <utility>

namespace midspan {
namespace {

using Entry = std::pair<WarningCode, std::string_view>;
constexpr std::array names{
    Entry{WarningCode::clipped, "clipped"},
    Entry{WarningCode::too_quiet, "too_quiet"},
    Entry{WarningCode::not_finite, "not_finite"},
    Entry{WarningCode::truncated, "truncated"},
    Entry{WarningCode::dead_channel, "dead_channel"},
    Entry{WarningCode::samples_lost, "samples_lost"},
    Entry{WarningCode::converting_device, "converting_device"},
    Entry{WarningCode::dead_note, "dead_note"},
    Entry{WarningCode::too_short, "too_short"},
    Entry{WarningCode::cut_off, "cut_off"},
    Entry{WarningCode::disturbed, "disturbed"},
    Entry{WarningCode::unknown_note, "unknown_note"},
    Entry{WarningCode::ambiguous_string, "ambiguous_string"},
    Entry{WarningCode::not_settled, "not_settled"},
    Entry{WarningCode::beating, "beating"},
    Entry{WarningCode::string_suspect, "string_suspect"},
    Entry{WarningCode::out_of_tune, "out_of_tune"},
    Entry{WarningCode::no_plucks, "no_plucks"},
    Entry{WarningCode::only_harmonics, "only_harmonics"},
    Entry{WarningCode::only_fretted, "only_fretted"},
    Entry{WarningCode::only_open, "only_open"},
    Entry{WarningCode::unpaired, "unpaired"},
    Entry{WarningCode::single_pair, "single_pair"},
    Entry{WarningCode::order_contradicted, "order_contradicted"},
    Entry{WarningCode::kinds_alike, "kinds_alike"},
    Entry{WarningCode::scattered, "scattered"},
    Entry{WarningCode::uncertain, "uncertain"},
    Entry{WarningCode::large_error, "large_error"},
    Entry{WarningCode::travel_exceeded, "travel_exceeded"},
};

constexpr auto codes = [] {
    std::array<WarningCode, names.size()> all{};
    for (std::size_t i = 0; i < names.size(); ++i) {
        all[i] = names[i].first;
    }
    return all;
}();

}  // namespace

std::string_view code_name(WarningCode code) {
    for (const auto& [known, name] : names) {
        if (known == code) return name;
    }
    assert(false);
    return {};
}

std::span<const WarningCode> all_warning_codes() { return codes; }

}  // namespace midspan
