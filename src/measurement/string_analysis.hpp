// string_analysis.hpp: the notes of one string to its error, move and verdict.
//
// Room: measurement. Pure. May include: ground, instrument to advice.
#pragma once

#include <span>
#include <vector>

#include "midspan/measurement/analysis.hpp"

namespace midspan {

/// What is known of one string before it is compared.
struct StringReadings {
    std::vector<PitchReading> open;
    std::vector<PitchReading> harmonics;  ///< in pairs with `fretted`, in the order heard
    std::vector<PitchReading> fretted;
    int harmonics_heard = 0;  ///< those that could not be used or paired included
    int fretted_heard = 0;
    int open_heard = 0;
    bool order_contradicted = false;
    bool ambiguous = false;
    std::vector<WarningCode> warned;  ///< what has been said of this string already
};

/// others  fretting scatter of the other strings
/// Appends what it has to warn of to `warnings`, in words; the codes go to the string as well.
[[nodiscard]] AnalysedString analyse_string(const InstrumentString& string, const StringReadings& readings,
                                            PluckOrder order, Cents tolerance, FrettingScatter others,
                                            std::vector<Warning>& warnings);

/// What is believed of its screw before anything moves: what it was learned to do, else its thread.
[[nodiscard]] BridgeResponse response_of(const InstrumentString& string, std::span<const KnownScrew> screws);

/// Says the move in turns, when thread or earlier moves tell what one does.
void advise_turns(AnalysedString& analysed, const BridgeResponse& response);

}  // namespace midspan
