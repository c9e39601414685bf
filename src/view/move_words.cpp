// move_words.cpp: which way a saddle goes and how its screw is turned, in words.
//
// Room: view. Pure.
#include "view/move_words.hpp"

namespace midspan {

std::string direction_in_words(Millimetres toward_tail) {
    return toward_tail > Millimetres{0.0} ? "toward the tail" : "toward the nut";
}

std::string screw_in_words(Turns turns, const Saddle& saddle) {
    std::string words = turns_in_words(turns);
    if (saddle.clockwise_is_toward_tail) {
        const bool clockwise = (turns > Turns{0.0}) == *saddle.clockwise_is_toward_tail;
        words += clockwise ? " clockwise" : " counter-clockwise";
    }
    return words;
}

}  // namespace midspan
