// prediction_json.cpp: a prediction as one JSON object.
//
// Room: view. Pure.
#include <string_view>

#include "midspan/view/prediction_view.hpp"
#include "view/json_parts.hpp"

namespace midspan {
namespace {

template <class Unit>
Json uncertain(const Uncertain<Quantity<Unit>>& q) {
    return {{"value", q.value.value()}, {"uncertainty", q.uncertainty.value()}};
}

std::string_view name_of(TravelVerdict travel) {
    switch (travel) {
        case TravelVerdict::enough:
            return "enough";
        case TravelVerdict::doubtful:
            return "doubtful";
        case TravelVerdict::too_short:
            return "too_short";
        case TravelVerdict::not_known:
            break;
    }
    return "not_known";
}

Json setup_of(const Setup& setup) {
    Json strings = Json::array();
    for (std::size_t i = 0; i < setup.strings.size(); ++i) {
        const StringGauge& gauge = setup.strings[i];
        const InstrumentString& string = setup.instrument.strings[i];
        strings.push_back({{"string", string.number},
                           {"open_note", string.open_note.text()},
                           {"open_frequency_hz", string.open_frequency.value()},
                           {"scale_length_mm", string.scale_length.value()},
                           {"gauge_mm", gauge.gauge.value()},
                           {"wound", gauge.wound},
                           {"core_mm", gauge.core ? Json(gauge.core->value()) : Json()}});
    }
    return {{"strings", strings},
            {"action_mm", setup.action.value()},
            {"nut_height_mm", setup.nut_height.value()},
            {"relief_mm", setup.relief.value()}};
}

Json tensions_of(const auto& of) {
    return {{"before", uncertain(of.tension_before)},
            {"after", uncertain(of.tension_after)},
            {"change", uncertain(of.tension_change)}};
}

}  // namespace

std::string prediction_json(const Setup& before, const Setup& after, const SetupPrediction& prediction) {
    Json strings = Json::array();
    for (const PredictedString& string : prediction.strings) {
        Json notes = Json::array();
        for (const PredictedNote& note : string.notes) {
            notes.push_back({{"fret", note.fret},
                             {"error_before_cents", uncertain(note.before)},
                             {"error_after_cents", uncertain(note.after)},
                             {"change_cents", uncertain(note.change)},
                             {"error_after_move_cents", uncertain(note.after_move)}});
        }
        strings.push_back({{"string", string.number},
                           {"tension_n", tensions_of(string)},
                           {"setback_before_mm", uncertain(string.setback_before)},
                           {"setback_after_mm", uncertain(string.setback_after)},
                           {"move_mm", uncertain(string.move)},
                           {"travel", name_of(string.travel)},
                           {"share_of_strength", string.share_of_strength},
                           {"notes", notes}});
    }
    const Json all{{"schema", "midspan/prediction/1"},
                   {"before", setup_of(before)},
                   {"after", setup_of(after)},
                   {"changed", differ(before, after)},
                   {"total_tension_n", tensions_of(prediction)},
                   {"strings", strings}};
    return all.dump(2) + '\n';
}

}  // namespace midspan
