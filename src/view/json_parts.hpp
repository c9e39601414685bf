// json_parts.hpp: what the JSON of every view is put together from.
//
// Room: view. Pure. May include: ground to measurement.
#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <vector>

#include "midspan/units.hpp"
#include "midspan/warning.hpp"

namespace midspan {

/// Keys stand in the order in which they are written down.
using Json = nlohmann::ordered_json;

/// A number in full precision; null where it is none.
inline Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

template <class Unit>
Json number(Quantity<Unit> quantity) {
    return number(quantity.value());
}

template <class Unit>
Json number(const std::optional<Quantity<Unit>>& quantity) {
    return quantity ? number(*quantity) : Json(nullptr);
}

inline Json whole(const std::optional<int>& value) { return value ? Json(*value) : Json(nullptr); }

template <class Range, class Element>
Json array(const Range& range, Element element) {
    Json all = Json::array();
    for (const auto& one : range)
        all.push_back(element(one));
    return all;
}

inline Json codes(const std::vector<WarningCode>& warnings) {
    return array(warnings, [](WarningCode code) { return Json(code_name(code)); });
}

}  // namespace midspan
