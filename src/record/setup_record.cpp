// setup_record.cpp: a visit without its mistakes.
//
// Room: record. Pure.
#include "midspan/record/setup_record.hpp"

#include <utility>

namespace midspan {

Visit as_it_stands(Visit visit) {
    const auto removed = [](const auto& item) { return item.removed_at.has_value(); };
    std::erase_if(visit.measurements, removed);
    std::erase_if(visit.readings, removed);
    std::erase_if(visit.surveys, removed);
    std::erase_if(visit.moves, removed);
    return visit;
}

}  // namespace midspan
