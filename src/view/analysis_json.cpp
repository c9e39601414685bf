// analysis_json.cpp: values to keys, in the order of the contract; what was added stands behind it.
//
// Room: view. Pure.
#include "midspan/view/analysis_json.hpp"

#include <cmath>

#include "midspan/measurement/bench_event.hpp"
#include "view/as_said.hpp"
#include "view/json_parts.hpp"
#include "view/names.hpp"

namespace midspan {
namespace {

Json recording(const AnalysedRecording& r) {
    return {{"path", r.path},
            {"sample_rate_hz", std::llround(r.sample_rate.value())},
            {"channels", r.channels},
            {"duration_s", number(r.duration)},
            {"channel_used", r.channel_used}};
}

Json note(Hertz frequency, Cents uncertainty, int plucks) {
    return {
        {"frequency_hz", number(frequency)}, {"uncertainty_cents", number(uncertainty)}, {"plucks", plucks}};
}

Json tuning(const TuningCheck& check) {
    return {{"frequency_hz", number(check.frequency)},
            {"off_cents", number(check.off)},
            {"from", check.from_open ? "open" : "harmonic"}};
}

Json string(const AnalysedString& s) {
    const auto& c = s.comparison;
    const Json none = nullptr;
    return {
        {"string", s.string.number},
        {"open_note", s.string.open_note.text()},
        {"scale_length_mm", number(s.string.scale_length)},
        {"harmonic", c ? note(c->harmonic.value, c->harmonic_uncertainty, c->harmonics) : none},
        {"fretted", c ? note(c->fretted.value, c->fretted_uncertainty, c->fretted_notes) : none},
        {"error_cents", c ? number(c->error.value) : none},
        {"uncertainty_cents", c ? number(c->error.uncertainty) : none},
        {"move_mm", s.move ? number(s.move->toward_tail) : none},
        {"move_uncertainty_mm", s.move ? number(s.move->uncertainty) : none},
        {"direction", direction_name(s)},
        {"turns", number(s.turns)},
        {"verdict", verdict_name(s.verdict)},
        {"warnings", codes(s.warnings)},
        {"tuning", s.tuning ? tuning(*s.tuning) : none},
        {"inharmonicity", s.inharmonicity ? number(*s.inharmonicity) : none},
        {"turns_uncertainty", number(s.turns_uncertainty)},
        {"turns_from",
         s.turns ? Json(turns_from_name(s.turns_learned ? TurnsFrom::moves : TurnsFrom::thread)) : none},
    };
}

Json warning(const Warning& w) {
    return {{"code", code_name(w.code)},
            {"at_s", number(w.at)},
            {"string", whole(w.string)},
            {"recording", whole(w.recording)},
            {"message", w.message}};
}

Json pluck(const AnalysedPluck& p) {
    const auto& r = p.reading;
    const Json none = nullptr;
    return {
        {"at_s", number(p.start)},
        {"recording", p.recording},
        {"string", whole(p.string)},
        {"kind", p.kind ? Json(note_kind_name(*p.kind)) : none},
        {"used", p.used},
        {"level_dbfs", number(p.level)},
        {"frequency_hz", r ? number(r->frequency) : none},
        {"uncertainty_cents", r ? number(r->uncertainty) : none},
        {"inharmonicity", r ? number(r->inharmonicity) : none},
        {"glide_cents", r ? number(r->glide) : none},
        {"span_s", r ? number(r->span) : none},
        {"snr_db", r ? number(r->signal_to_noise) : none},
        {"warnings", codes(p.warnings)},
    };
}

}  // namespace

std::string analysis_json(const Analysis& analysis) {
    const Json object = {
        {"schema", "midspan/analysis/1"},
        {"recordings", array(analysis.recordings, recording)},
        {"strings", array(as_said(analysis), string)},
        {"warnings", array(analysis.warnings, warning)},
        {"tolerance_cents", number(analysis.tolerance)},
        {"a4_hz", number(analysis.a4)},
        {"plucks", array(analysis.plucks, pluck)},
    };
    return object.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace midspan
