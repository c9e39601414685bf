// record_names.cpp: the spelling of the record's enumerators.
//
// Room: record. Pure.
#include "midspan/record/record_names.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <utility>

namespace midspan {
namespace {

template <class Enumeration, std::size_t count>
using Names = std::array<std::pair<Enumeration, std::string_view>, count>;

constexpr Names<InstrumentKind, 5> instrument_kinds{{{InstrumentKind::electric, "electric"},
                                                     {InstrumentKind::acoustic, "acoustic"},
                                                     {InstrumentKind::classical, "classical"},
                                                     {InstrumentKind::bass, "bass"},
                                                     {InstrumentKind::other, "other"}}};
constexpr Names<BridgeKind, 3> bridge_kinds{{{BridgeKind::individual_saddles, "individual_saddles"},
                                             {BridgeKind::shared_saddles, "shared_saddles"},
                                             {BridgeKind::one_piece, "one_piece"}}};
constexpr Names<Winding, 2> windings{{{Winding::plain, "plain"}, {Winding::wound, "wound"}}};
constexpr Names<BenchQuantity, 5> quantities{{{BenchQuantity::relief, "relief"},
                                              {BenchQuantity::action, "action"},
                                              {BenchQuantity::nut_height, "nut_height"},
                                              {BenchQuantity::fret_height, "fret_height"},
                                              {BenchQuantity::pickup_height, "pickup_height"}}};
constexpr Names<ReadingSource, 2> sources{
    {{ReadingSource::analyze, "analyze"}, {ReadingSource::listen, "listen"}}};
constexpr Names<VisitItem, 4> visit_items{{{VisitItem::measurement, "measurement"},
                                           {VisitItem::reading, "reading"},
                                           {VisitItem::survey, "survey"},
                                           {VisitItem::move, "move"}}};
constexpr Names<NoteKind, 3> note_kinds{
    {{NoteKind::open, "open"}, {NoteKind::harmonic, "harmonic"}, {NoteKind::fretted, "fretted"}}};
constexpr Names<NeckCause, 6> neck_causes{{{NeckCause::string, "string"},
                                           {NeckCause::fret, "fret"},
                                           {NeckCause::fret_on_string, "fret_on_string"},
                                           {NeckCause::nut_height, "nut_height"},
                                           {NeckCause::nut_position, "nut_position"},
                                           {NeckCause::saddle, "saddle"}}};
constexpr Names<SaddleSharing, 3> sharings{{{SaddleSharing::individual, "individual"},
                                            {SaddleSharing::shared_pairs, "shared_pairs"},
                                            {SaddleSharing::one_piece, "one_piece"}}};
constexpr Names<SurveyReference, 3> references{{{SurveyReference::automatic, "automatic"},
                                                {SurveyReference::open, "open"},
                                                {SurveyReference::harmonic, "harmonic"}}};
constexpr std::array verdicts{Verdict::in_tolerance, Verdict::move, Verdict::measure_again};

template <class Enumeration, std::size_t count>
std::string_view name_in(const Names<Enumeration, count>& names, Enumeration wanted) {
    for (const auto& [enumerator, name] : names) {
        if (enumerator == wanted) return name;
    }
    assert(false);
    return {};
}

template <class Enumeration, std::size_t count>
std::optional<Enumeration> found_in(const Names<Enumeration, count>& names, std::string_view wanted) {
    for (const auto& [enumerator, name] : names) {
        if (name == wanted) return enumerator;
    }
    return std::nullopt;
}

/// The same where another room spells the names.
template <class Enumerators>
auto found_among(const Enumerators& enumerators, std::string_view wanted) {
    const auto found = std::find_if(enumerators.begin(), enumerators.end(),
                                    [wanted](auto each) { return name_of(each) == wanted; });
    return found == enumerators.end() ? std::nullopt : std::optional{*found};
}

}  // namespace

std::string_view name_of(InstrumentKind kind) { return name_in(instrument_kinds, kind); }
std::string_view name_of(BridgeKind kind) { return name_in(bridge_kinds, kind); }
std::string_view name_of(Winding winding) { return name_in(windings, winding); }
std::string_view name_of(BenchQuantity quantity) { return name_in(quantities, quantity); }
std::string_view name_of(ReadingSource source) { return name_in(sources, source); }
std::string_view name_of(VisitItem item) { return name_in(visit_items, item); }
std::string_view name_of(NoteKind kind) { return name_in(note_kinds, kind); }
std::string_view name_of(Verdict verdict) { return verdict_name(verdict); }
std::string_view name_of(WarningCode code) { return code_name(code); }
std::string_view name_of(NeckCause cause) { return name_in(neck_causes, cause); }
std::string_view name_of(SaddleSharing sharing) { return name_in(sharings, sharing); }
std::string_view name_of(SurveyReference reference) { return name_in(references, reference); }

template <>
std::optional<InstrumentKind> from_name(std::string_view name) {
    return found_in(instrument_kinds, name);
}
template <>
std::optional<BridgeKind> from_name(std::string_view name) {
    return found_in(bridge_kinds, name);
}
template <>
std::optional<Winding> from_name(std::string_view name) {
    return found_in(windings, name);
}
template <>
std::optional<BenchQuantity> from_name(std::string_view name) {
    return found_in(quantities, name);
}
template <>
std::optional<ReadingSource> from_name(std::string_view name) {
    return found_in(sources, name);
}
template <>
std::optional<VisitItem> from_name(std::string_view name) {
    return found_in(visit_items, name);
}
template <>
std::optional<NoteKind> from_name(std::string_view name) {
    return found_in(note_kinds, name);
}
template <>
std::optional<Verdict> from_name(std::string_view name) {
    return found_among(verdicts, name);
}
template <>
std::optional<WarningCode> from_name(std::string_view name) {
    return found_among(all_warning_codes(), name);
}
template <>
std::optional<NeckCause> from_name(std::string_view name) {
    return found_in(neck_causes, name);
}
template <>
std::optional<SaddleSharing> from_name(std::string_view name) {
    return found_in(sharings, name);
}
template <>
std::optional<SurveyReference> from_name(std::string_view name) {
    return found_in(references, name);
}

}  // namespace midspan
