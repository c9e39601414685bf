// bridge_picture.cpp: strings from nut to tail, a saddle on each, and where it came from.
//
// Room: view. Pure.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "view/figures.hpp"
#include "view/sheet_pictures.hpp"

namespace midspan {
namespace {

constexpr double left = 46.0;
constexpr double strings_width = 272.0;
constexpr double least_spacing = 30.0;  ///< that a number below a saddle has room
constexpr double margin = 12.0;
constexpr double top = 36.0;          ///< of the strings
constexpr double saddles_top = 66.0;  ///< the place nearest to the nut a saddle's crown is drawn at
constexpr double saddles_room = 90.0;
constexpr double plate = 202.0;  ///< where the screws are held
constexpr double height = 252.0;
constexpr double saddle_length = 16.0;
constexpr double letter = 12.0;

/// Places along the strings, in millimetres from where each saddle stood.
struct Scale {
    double nearest;  ///< to the nut
    double per_millimetre;

    [[nodiscard]] double at(double toward_tail) const {
        return saddles_top + (toward_tail - nearest) * per_millimetre;
    }
};

double moved(const StringOverVisit& s) { return s.move ? s.move->toward_tail.value() : 0.0; }

Scale scale_for(std::span<const StringOverVisit> strings) {
    double nearest = 0.0;
    double farthest = 0.0;
    for (const StringOverVisit& s : strings) {
        nearest = std::min(nearest, moved(s));
        farthest = std::max(farthest, moved(s));
    }
    constexpr double largest = 30.0;
    const double range = farthest - nearest;
    return {nearest, range * largest > saddles_room ? saddles_room / range : largest};
}

void saddle(Picture& picture, double x, double crown, double half_width, bool now) {
    picture.rectangle({x - half_width, crown - 0.3 * saddle_length}, 2.0 * half_width, saddle_length,
                      now ? R"(fill="#d0d0d0" stroke="#000" stroke-width="1.5")"
                          : R"(fill="none" stroke="#000" stroke-width="1" stroke-dasharray="3 2")");
    if (now) picture.line({x - half_width, crown}, {x + half_width, crown}, 2.5);
}

void screw(Picture& picture, double x, double from) {
    picture.line({x, from}, {x, plate}, 1.0);
    for (double y = from + 4.0; y < plate - 2.0; y += 4.0)
        picture.line({x - 2.5, y + 1.5}, {x + 2.5, y - 1.5}, 0.7);
}

/// "2.38" or ".094": hundredths of a millimetre or thousandths of an inch.
std::string amount(Millimetres length, LengthUnit unit) {
    if (unit == LengthUnit::millimetres) return rounded(length.value(), 2);
    const std::string inches = rounded(length / millimetres_per_inch, 3);
    return inches.starts_with("0.") ? inches.substr(1) : inches;
}

/// What stands below a saddle.
struct Label {
    std::string amount;
    std::string_view toward;
};

Label label_of(const StringOverVisit& s, LengthUnit unit) {
    if (!s.move) {
        const bool left_alone = s.before != nullptr && s.before->verdict == Verdict::in_tolerance;
        return {left_alone ? "0" : "?", ""};
    }
    const Millimetres move = s.move->toward_tail;
    const std::string distance = amount(magnitude(move), unit);
    if (distance == amount(Millimetres{0.0}, unit)) return {"0", ""};
    return {(s.move->worked_out ? "≈" : "") + distance, move > Millimetres{0.0} ? "tail" : "nut"};
}

struct Lane {
    double x;
    double spacing;
};

void lane(Picture& picture, const StringOverVisit& s, const Lane& lane, const Scale& scale, BridgeKind bridge,
          LengthUnit unit) {
    const bool wound = s.fitted != nullptr && s.fitted->winding == Winding::wound;
    const double crown = scale.at(moved(s));
    const double half_width = std::min(0.32 * lane.spacing, 13.0);
    picture.text({lane.x, 14.0}, letter, Anchor::middle, std::to_string(s.string.number),
                 R"(font-weight="bold")");
    picture.text({lane.x, 28.0}, 11.0, Anchor::middle, s.string.open_note.text());
    if (bridge == BridgeKind::individual_saddles) screw(picture, lane.x, crown + 0.7 * saddle_length);
    if (moved(s) != 0.0) saddle(picture, lane.x, scale.at(0.0), half_width, false);
    saddle(picture, lane.x, crown, half_width, true);
    picture.line({lane.x, top}, {lane.x, crown}, wound ? 3.0 : 1.5);
    if (moved(s) != 0.0) {
        const double beside = lane.x + half_width + 4.0;
        picture.arrow({beside, scale.at(0.0)}, {beside, crown}, 1.5);
    }

    const Label label = label_of(s, unit);
    picture.text({lane.x, plate + 22.0}, 11.0, Anchor::middle, label.amount);
    picture.text({lane.x, plate + 36.0}, 11.0, Anchor::middle, label.toward);
}

void surroundings(Picture& picture, const Scale& scale, BridgeKind bridge, double right) {
    picture.text({0.0, 14.0}, letter, Anchor::start, "nut ▴");
    picture.text({0.0, plate + 4.0}, letter, Anchor::start, "tail ▾");
    if (bridge == BridgeKind::individual_saddles)
        picture.rectangle({left, plate}, right - left, 5.0, R"(fill="#888" stroke="#000" stroke-width="1")");
    const double bar = scale.per_millimetre;
    const double from = saddles_top;
    picture.line({10.0, from}, {10.0, from + bar}, 1.5);
    for (const double end : {from, from + bar})
        picture.line({6.0, end}, {14.0, end}, 1.5);
    picture.text({17.0, from + 0.5 * bar + 4.0}, 11.0, Anchor::start, "1 mm");
}

}  // namespace

Picture bridge_picture(std::span<const StringOverVisit> strings, BridgeKind bridge, bool left_handed,
                       LengthUnit unit) {
    const double spacing = std::max(strings_width / static_cast<double>(strings.size()), least_spacing);
    const double right = left + spacing * static_cast<double>(strings.size());
    Picture picture{right + margin, height,
                    "The bridge from above: each saddle where it stood and where it stands"};
    const Scale scale = scale_for(strings);
    surroundings(picture, scale, bridge, right);
    for (std::size_t i = 0; i < strings.size(); ++i) {
        const double place = (static_cast<double>(i) + 0.5) * spacing;
        lane(picture, strings[i], {left_handed ? right - place : left + place, spacing}, scale, bridge, unit);
    }
    picture.text({0.0, plate + 22.0}, 11.0, Anchor::start, unit == LengthUnit::inches ? "in" : "mm");
    picture.text({0.0, plate + 36.0}, 11.0, Anchor::start, "toward");
    return picture;
}

}  // namespace midspan
