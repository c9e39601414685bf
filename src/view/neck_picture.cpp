// neck_picture.cpp: the neck from above, errors as they leave their string.
//
// Room: view. Pure.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "midspan/instrument/fretboard.hpp"
#include "midspan/view/neck_drawing.hpp"
#include "view/figures.hpp"
#include "view/neck_words.hpp"
#include "view/picture.hpp"
#include "view/sheet_pictures.hpp"

namespace midspan {
namespace {

constexpr double width = 720.0;
constexpr double left = 56.0;
constexpr double right = 700.0;
constexpr double top = 34.0;
constexpr double row_height = 46.0;
constexpr double letter = 11.0;
constexpr double most = 19.0;  // how far a mark leaves its string
constexpr double least_limit = 5.0;
constexpr double highest_limit = 20.0;  // cents: one bad string would flatten all others
constexpr double room_for_tenths = 26.0;

/// Places on the picture: frets where they lie on the neck, errors up when sharp.
struct Neck {
    double last;   // of the frets, as a share of the scale length
    double limit;  // cents that reach `most`
    bool beyond;   // some reach farther
    bool crowded;  // frets lie too close for tenths of a cent

    [[nodiscard]] double at(int fret) const {
        const double share = fret_position(fret, Millimetres{1.0}).value();
        return left + (right - left) * share / last;
    }
    [[nodiscard]] double up(Cents error) const { return most * std::clamp(error.value() / limit, -1.0, 1.0); }
};

bool named(const NeckSurvey& survey, NeckCause cause, std::optional<int> string, std::optional<int> fret) {
    return std::any_of(survey.findings.begin(), survey.findings.end(), [&](const NeckFinding& f) {
        return f.rivals.empty() && f.cause == NamedCause{cause, string, fret};
    });
}

Neck neck_of(const NeckSurvey& survey) {
    double farthest = least_limit;
    for (const SurveyedNote& note : survey.notes)
        farthest = std::max(farthest, std::abs(note.error.value.value()));
    const int last = survey.frets.empty() ? 12 : survey.frets.back().fret;
    Neck neck{fret_position(std::min(36, last + 1), Millimetres{1.0}).value(),
              std::min(farthest, highest_limit), farthest > highest_limit, false};
    for (std::size_t i = 1; i < survey.frets.size(); ++i) {
        const double gap = neck.at(survey.frets[i].fret) - neck.at(survey.frets[i - 1].fret);
        neck.crowded = neck.crowded || gap < room_for_tenths;
    }
    return neck;
}

/// Shape, place and ink say the same: up and filled is sharp, down and open is flat, a small dot is neither.
void mark(Picture& picture, Point at, Cents error) {
    if (magnitude(error) < drawn_as_error) {
        picture.circle(at, 1.8, R"(fill="#000")");
    } else if (error > Cents{0.0}) {
        picture.circle(at, 4.0, R"(fill="#b03000" stroke="#000")");
    } else {
        picture.rectangle({at.x - 3.6, at.y - 3.6}, 7.2, 7.2,
                          R"(fill="#fff" stroke="#0050a0" stroke-width="1.8")");
    }
}

void draw_string(Picture& picture, const Neck& neck, const NeckSurvey& survey, const InstrumentString& string,
                 double y) {
    const bool bad = named(survey, NeckCause::string, string.number, {});
    picture.text({0.0, y + 4.0}, letter, Anchor::start,
                 fmt::format("{} {}{}", string.number, string.open_note.text(), bad ? " !" : ""),
                 bad ? R"(font-weight="bold")" : "");
    picture.line({left, y}, {right, y}, 1.0, R"(stroke="#999")");
    std::optional<Point> before;
    for (const SurveyedNote& note : survey.notes) {
        if (note.string != string.number) continue;
        const double x = neck.at(note.fret);
        const Point fitted{x, y - neck.up(note.fitted)};
        if (before) picture.line(*before, fitted, 1.2, R"(stroke="#000" stroke-dasharray="4 3")");
        before = fitted;
    }
    for (const SurveyedNote& note : survey.notes) {
        if (note.string != string.number) continue;
        const double x = neck.at(note.fret);
        const double place = y - neck.up(note.error.value);
        picture.line({x, y}, {x, place}, 0.8);
        mark(picture, {x, place}, note.error.value);
        if (magnitude(note.error.value) >= drawn_as_error) {
            const double beside = note.error.value > Cents{0.0} ? -6.0 : 13.0;
            picture.text({x, place + beside}, 8.0, Anchor::middle,
                         rounded(note.error.value.value(), neck.crowded ? 0 : 1, Sign::always));
        }
    }
    for (const NeckNote& note : survey.bent) {
        if (note.string == string.number && !counts(survey, note)) {
            picture.text({neck.at(note.fret), y - 4.0}, letter, Anchor::middle, "?");
        }
    }
}

}  // namespace

Picture neck_map(const NeckAnalysis& analysis) {
    const NeckSurvey& survey = analysis.neck;
    const Neck neck = neck_of(survey);
    std::vector<InstrumentString> strings = strings_on_map(analysis);
    std::reverse(strings.begin(), strings.end());  // as a player says them
    const double below = neck.beyond ? 48.0 : 34.0;
    const double height = top + row_height * static_cast<double>(strings.size()) + below;
    Picture picture{width, height, "Errors of every plucked note along the neck"};
    const double bottom = height - below;
    picture.line({left, top}, {left, bottom}, 4.0);
    for (const SurveyedFret& fret : survey.frets) {
        const bool bad = named(survey, NeckCause::fret, {}, fret.fret);
        const double x = neck.at(fret.fret);
        picture.line({x, top}, {x, bottom}, bad ? 5.0 : 1.5, R"(stroke="#ccc")");
        picture.text({x, top - 10.0}, letter, Anchor::middle, fmt::format("{}{}", fret.fret, bad ? "!" : ""),
                     bad ? R"(font-weight="bold")" : "");
    }
    if (const int capo = analysis.options.capo; capo > 0) {
        picture.line({neck.at(capo), top}, {neck.at(capo), bottom}, 7.0, R"(stroke="#666")");
        picture.text({neck.at(capo), top - 10.0}, letter, Anchor::middle, "capo");
    }
    double y = top + 0.5 * row_height;
    for (const InstrumentString& string : strings) {
        draw_string(picture, neck, survey, string, y);
        y += row_height;
    }
    picture.text({left, bottom + 22.0}, letter, Anchor::start,
                 "Disc: sharp by 2 cents or more; square: flat; dot: neither. Dashes: what the findings "
                 "explain. !: named. ?: left out.");
    if (neck.beyond) {
        picture.text({left, bottom + 36.0}, letter, Anchor::start,
                     "The farthest stand for 20 cents and more.");
    }
    return picture;
}

std::string neck_picture(const NeckAnalysis& analysis) { return svg_file(std::array{neck_map(analysis)}); }

}  // namespace midspan
