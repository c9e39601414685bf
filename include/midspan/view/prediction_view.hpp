// prediction_view.hpp: a prediction in plain words, or as JSON.
//
// Room: view. Pure. May include: ground to advice.
#pragma once

#include <string>

#include "midspan/advice/setup_prediction.hpp"
#include "midspan/view/look.hpp"

namespace midspan {

/// What a person reads: tension, saddle, errors at frets 1, 3, 5, 7, 12 and 19, then cautions. Without a
/// change, of the one setup alone.
[[nodiscard]] std::string prediction_text(const Setup& before, const Setup& after,
                                          const SetupPrediction& prediction, const Look& look);

/// One JSON object, schema midspan/prediction/1, every number of the prediction in it.
[[nodiscard]] std::string prediction_json(const Setup& before, const Setup& after,
                                          const SetupPrediction& prediction);

/// Whether the two differ in anything that sounds.
[[nodiscard]] bool differ(const Setup& before, const Setup& after);

}  // namespace midspan
