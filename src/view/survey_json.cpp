// survey_json.cpp: values to keys.
//
// Room: view. Pure.
#include "midspan/view/survey_json.hpp"

#include <cmath>

#include "midspan/record/record_names.hpp"
#include "view/json_parts.hpp"
#include "view/neck_words.hpp"

namespace midspan {
namespace {

Json note(const NeckNote& n) { return {{"string", n.string}, {"fret", n.fret}}; }

Json cause(const NamedCause& c) {
    return {{"cause", name_of(c.cause)}, {"string", whole(c.string)}, {"fret", whole(c.fret)}};
}

Json finding(const NeckFinding& f, int capo) {
    Json object = cause(f.cause);
    object["length_mm"] = f.length ? number(f.length->value) : Json(nullptr);
    object["length_uncertainty_mm"] = f.length ? number(f.length->uncertainty) : Json(nullptr);
    object["effect_cents"] = number(f.effect.value);
    object["effect_uncertainty_cents"] = number(f.effect.uncertainty);
    object["probability"] = number(f.probability);
    object["or"] = array(f.rivals, cause);
    object["deciding"] = array(f.deciding, note);
    object["message"] = finding_in_words(f, capo, {LengthUnit::millimetres, true, false});
    return object;
}

Json together(const SaddleAndNut& s) {
    return {
        {"saddle_mm", number(s.saddle_toward_tail.value)},
        {"saddle_uncertainty_mm", number(s.saddle_toward_tail.uncertainty)},
        {"nut_mm", number(s.nut_toward_bridge.value)},
        {"nut_uncertainty_mm", number(s.nut_toward_bridge.uncertainty)},
        {"correlation", number(s.correlation)},
        {"nut_too_high_mm", s.nut_too_high ? number(s.nut_too_high->value) : Json(nullptr)},
        {"nut_too_high_uncertainty_mm", s.nut_too_high ? number(s.nut_too_high->uncertainty) : Json(nullptr)},
        {"left_cents", number(s.left)}};
}

Json string(const NeckAnalysis& a, const SurveyedStringFit& s) {
    const InstrumentString& string = a.instrument.string(s.string);
    Json reference = nullptr;
    for (const ReferenceNote& r : a.references) {
        if (r.string != s.string) continue;
        reference = {
            {"from", r.from_open ? "open" : "harmonic"},  {"plucks", r.plucks},
            {"frequency_hz", number(r.frequency)},        {"off_cents", number(r.off)},
            {"uncertainty_cents", number(r.uncertainty)}, {"inharmonicity", number(r.inharmonicity)}};
    }
    return {{"string", s.string},
            {"open_note", string.open_note.text()},
            {"scale_length_mm", number(string.scale_length)},
            {"reference", reference},
            {"before_cents", number(s.before)},
            {"saddle_alone",
             {{"saddle_mm", number(s.saddle_alone.value)},
              {"saddle_uncertainty_mm", number(s.saddle_alone.uncertainty)},
              {"left_cents", number(s.left_by_saddle)}}},
            {"saddle_and_nut", s.together ? together(*s.together) : Json(nullptr)},
            {"on_this_bridge",
             {{"saddle_mm", number(s.on_this_bridge)}, {"left_cents", number(s.left_on_this_bridge)}}},
            {"misfit_cents", number(s.misfit)}};
}

Json fret(const SurveyedFret& f) {
    return {{"fret", f.fret},
            {"strings", f.strings},
            {"common_cents", number(f.common.value)},
            {"common_uncertainty_cents", number(f.common.uncertainty)},
            {"before_cents", number(f.before)},
            {"after_saddle_cents", number(f.after_saddle)},
            {"after_saddle_and_nut_cents", number(f.after_saddle_and_nut)}};
}

Json surveyed(const SurveyedNote& n) {
    return {{"string", n.string},
            {"fret", n.fret},
            {"plucks", n.plucks},
            {"left_out", n.bent},
            {"error_cents", number(n.error.value)},
            {"uncertainty_cents", number(n.error.uncertainty)},
            {"fitted_cents", number(n.fitted)},
            {"after_saddle_cents", number(n.after_saddle)},
            {"after_saddle_and_nut_cents", number(n.after_saddle_and_nut)}};
}

Json pluck(const SurveyedPluck& p) {
    const auto& r = p.reading;
    const Json none = nullptr;
    return {{"at_s", number(p.start)},
            {"recording", p.recording},
            {"string", whole(p.string)},
            {"fret", whole(p.fret)},
            {"harmonic", p.harmonic},
            {"used", p.used},
            {"level_dbfs", number(p.level)},
            {"frequency_hz", r ? number(r->frequency) : none},
            {"uncertainty_cents", r ? number(r->uncertainty) : none},
            {"inharmonicity", r ? number(r->inharmonicity) : none},
            {"error_cents", p.error ? number(*p.error) : none},
            {"warnings", codes(p.warnings)}};
}

Json length(const std::optional<Millimetres>& l) { return l ? number(*l) : Json(nullptr); }

Json stated(const StatedNeck& neck) {
    return {{"strings", array(neck.strings,
                              [](const StatedString& s) {
                                  const auto& gauge = s.gauge;
                                  return Json{{"string", s.number},
                                              {"gauge_mm", gauge ? number(gauge->gauge) : Json(nullptr)},
                                              {"wound", gauge ? Json(gauge->wound) : Json(nullptr)},
                                              {"core_mm", gauge ? length(gauge->core) : Json(nullptr)},
                                              {"action_mm", length(s.action)},
                                              {"nut_height_mm", length(s.nut_height)}};
                              })},
            {"relief_mm", length(neck.relief)}};
}

}  // namespace

std::string survey_json(const NeckAnalysis& a) {
    const Json object = {
        {"schema", "midspan/survey/1"},
        {"recordings", array(a.recordings,
                             [](const AnalysedRecording& r) {
                                 return Json{{"path", r.path},
                                             {"sample_rate_hz", std::llround(r.sample_rate.value())},
                                             {"channels", r.channels},
                                             {"duration_s", number(r.duration)},
                                             {"channel_used", r.channel_used}};
                             })},
        {"findings",
         array(a.neck.findings, [&](const NeckFinding& f) { return finding(f, a.options.capo); })},
        {"strings", array(a.neck.strings, [&](const SurveyedStringFit& s) { return string(a, s); })},
        {"frets", array(a.neck.frets, fret)},
        {"notes", array(a.neck.notes, surveyed)},
        {"not_separated", array(a.neck.inseparable,
                                [](const Inseparable& pair) {
                                    return Json{
                                        {"string", pair.string},
                                        {"causes", {name_of(pair.causes.first), name_of(pair.causes.second)}},
                                        {"deciding", array(pair.deciding, note)}};
                                })},
        {"detectable", array(a.neck.detectable,
                             [](const DetectableSize& d) {
                                 return Json{{"cause", name_of(d.cause)},
                                             {"all_strings", d.all_strings},
                                             {"fret", whole(d.fret)},
                                             {"size_mm", number(d.size)},
                                             {"with_three_plucks_mm", number(d.with_three_plucks)}};
                             })},
        {"left_out", array(a.neck.bent, note)},
        {"scatter_cents", number(a.neck.scatter)},
        {"before_cents", number(a.neck.before)},
        {"after_saddle_cents", number(a.neck.after_saddle)},
        {"after_saddle_and_nut_cents", number(a.neck.after_saddle_and_nut)},
        {"judged_by", stated(a.options.stated)},
        {"capo", a.options.capo},
        {"a4_hz", number(a.instrument.a4)},
        {"warnings", array(a.warnings,
                           [](const Warning& w) {
                               return Json{{"code", code_name(w.code)},
                                           {"at_s", w.at ? number(*w.at) : Json(nullptr)},
                                           {"string", whole(w.string)},
                                           {"recording", whole(w.recording)},
                                           {"message", w.message}};
                           })},
        {"plucks", array(a.plucks, pluck)},
    };
    return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace midspan
