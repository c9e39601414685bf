// neck_drawing.cpp: one row a string, one cell a note; and the words below.
//
// Room: view. Pure.
#include "midspan/view/neck_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "view/columns.hpp"
#include "view/figures.hpp"
#include "view/neck_words.hpp"

namespace midspan {
namespace {

constexpr std::size_t name_width = 8;
constexpr std::size_t mark_width = 1;

struct Glyphs {
    std::string_view sharp, flat, fine, unplucked, bad;
};
constexpr Glyphs ascii{"^", "v", " ", ".", "!"};
constexpr Glyphs drawn{"▲", "▼", " ", "·", "!"};

std::string heading(std::string_view text, const Look& look) {
    return look.emphasis ? fmt::format("\x1b[1m{}\x1b[0m\n", text) : fmt::format("{}\n", text);
}

const SurveyedNote* note_at(const NeckSurvey& survey, int string, int fret) {
    for (const SurveyedNote& note : survey.notes) {
        if (note.string == string && note.fret == fret) return &note;
    }
    return nullptr;
}

bool bent_at(const NeckSurvey& survey, int string, int fret) {
    return std::find(survey.bent.begin(), survey.bent.end(), NeckNote{string, fret}) != survey.bent.end();
}

/// Escape sequences take no column, so the padding comes first.
std::string coloured(const std::string& text, double cents, const Look& look) {
    if (!look.emphasis || std::abs(std::round(cents)) < drawn_as_error.value()) return text;
    return fmt::format("\x1b[1;{}m{}\x1b[0m", cents > 0.0 ? 31 : 34, text);
}

std::string whole_cents(Cents error) { return rounded(error.value(), 0, Sign::always); }

/// Of the widest number on the map, with one blank before it.
std::size_t number_width(const NeckSurvey& survey) {
    std::size_t width = 2;
    for (const SurveyedNote& note : survey.notes)
        width = std::max(width, whole_cents(note.error.value).size());
    return width + 1;
}

std::string cell(const NeckSurvey& survey, int string, int fret, const Glyphs& glyphs, const Look& look) {
    const SurveyedNote* note = note_at(survey, string, fret);
    const std::size_t width = number_width(survey);
    if (note == nullptr) {
        return fmt::format("{:>{}}", bent_at(survey, string, fret) ? "?" : " ", width) +
               (bent_at(survey, string, fret) ? " " : std::string{glyphs.unplucked});
    }
    const double cents = note->error.value.value();
    // As the number beside it is read.
    const bool large = std::abs(std::round(cents)) >= drawn_as_error.value();
    const std::string_view mark = !large ? glyphs.fine : cents > 0.0 ? glyphs.sharp : glyphs.flat;
    return coloured(fmt::format("{:>{}}", whole_cents(note->error.value), width) + std::string{mark}, cents,
                    look);
}

bool sure(const NeckFinding& finding) { return finding.rivals.empty(); }

bool bad_fret(const NeckSurvey& survey, int fret) {
    return std::any_of(survey.findings.begin(), survey.findings.end(), [&](const NeckFinding& f) {
        return sure(f) && f.cause.cause == NeckCause::fret && f.cause.fret == fret;
    });
}

bool bad_string(const NeckSurvey& survey, int string) {
    return std::any_of(survey.findings.begin(), survey.findings.end(), [&](const NeckFinding& f) {
        return sure(f) && f.cause.cause == NeckCause::string && f.cause.string == string;
    });
}

std::string without_trailing_spaces(std::string line) {
    line.erase(line.find_last_not_of(' ') + 1);
    return line + '\n';
}

std::string rows_of(const NeckAnalysis& analysis, std::span<const SurveyedFret> frets, const Look& look) {
    const Glyphs& glyphs = look.utf8 ? drawn : ascii;
    const NeckSurvey& survey = analysis.neck;
    std::string head = padded("fret", name_width);
    std::string marks(name_width, ' ');
    std::string common = padded("all", name_width);
    bool any_bad = false;
    const std::size_t width = number_width(survey);
    for (const SurveyedFret& fret : frets) {
        const bool bad = bad_fret(survey, fret.fret);
        any_bad = any_bad || bad;
        head += fmt::format("{:>{}} ", fret.fret, width);
        marks += fmt::format("{:>{}} ", bad ? glyphs.bad : " ", width);
        common += fmt::format("{:>{}} ", whole_cents(fret.common.value), width);
    }
    std::string result = without_trailing_spaces(head);
    std::vector<InstrumentString> strings = strings_on_map(analysis);
    std::reverse(strings.begin(), strings.end());  // as a player says them
    for (const InstrumentString& string : strings) {
        std::string line =
            padded(fmt::format("{:>2}  {}", string.number, string.open_note.text()), name_width);
        for (const SurveyedFret& fret : frets)
            line += cell(survey, string.number, fret.fret, glyphs, look);
        if (bad_string(survey, string.number)) line += fmt::format(" {}", glyphs.bad);
        result += without_trailing_spaces(line);
    }
    if (any_bad) result += without_trailing_spaces(marks);
    if (survey.strings.size() > 1) result += without_trailing_spaces(common);
    return result;
}

/// What the strings begin at.
std::string_view beginning(const NeckAnalysis& analysis) {
    return analysis.options.capo > 0 ? "capo" : "nut";
}

std::string title(const NeckAnalysis& analysis) {
    const int capo = analysis.options.capo;
    return fmt::format("The neck{}, cents from {}",
                       capo > 0 ? fmt::format(" above the capo at fret {}", capo) : std::string{},
                       analysis.options.neck.targets.empty() ? "equal temperament" : "the target");
}

std::string legend(const NeckAnalysis& analysis, const Look& look) {
    const Glyphs& glyphs = look.utf8 ? drawn : ascii;
    std::string text = fmt::format("{} sharp, {} flat by 2 cents or more", glyphs.sharp, glyphs.flat);
    const std::size_t cells = analysis.neck.strings.size() * analysis.neck.frets.size();
    const auto heard =
        analysis.neck.notes.size() + static_cast<std::size_t>(std::count_if(
                                         analysis.neck.bent.begin(), analysis.neck.bent.end(),
                                         [&](const NeckNote& note) { return !counts(analysis.neck, note); }));
    if (heard < cells) text += fmt::format("   {} not plucked", glyphs.unplucked);
    const auto& findings = analysis.neck.findings;
    if (std::any_of(findings.begin(), findings.end(), [](const NeckFinding& f) {
            return sure(f) && (f.cause.cause == NeckCause::fret || f.cause.cause == NeckCause::string);
        })) {
        text += fmt::format("   {} named below", glyphs.bad);
    }
    if (!analysis.neck.bent.empty()) text += "   ? left out, pluck it again";
    if (analysis.neck.strings.size() > 1) {
        text +=
            fmt::format("\nall: what the strings have in common beyond saddle and {}", beginning(analysis));
    }
    return text + '\n';
}

std::string mover(const SurveyedStringFit& fit, const Look& look) {
    const auto& move = fit.saddle_alone;
    return fmt::format("{} {}", length_in_words(move, look), move.value.value() > 0.0 ? "to tail" : "to nut");
}

}  // namespace

std::string neck_drawing(const NeckAnalysis& analysis, const Look& look) {
    const auto& frets = analysis.neck.frets;
    if (frets.empty()) return {};
    std::string result = heading(title(analysis), look);
    const std::span<const SurveyedFret> all{frets};
    const std::size_t cells_in_a_row =
        (page_width - name_width - 2) / (number_width(analysis.neck) + mark_width);
    for (std::size_t first = 0; first < frets.size(); first += cells_in_a_row) {
        if (first > 0) result += '\n';
        result += rows_of(analysis, all.subspan(first, std::min(cells_in_a_row, frets.size() - first)), look);
    }
    return result + legend(analysis, look);
}

std::string neck_places(const NeckAnalysis& analysis, const Look& look) {
    if (analysis.neck.strings.empty()) return {};
    const bool bridge_decides = analysis.options.neck.bridge != SaddleSharing::individual;
    std::string result = heading("Least error", look);
    result += padded("String", name_width) + padded("now", 8) + padded("saddle alone", 25) +
              padded("leaves", 8) + padded(fmt::format("saddle and {}", beginning(analysis)), 23) +
              "leaves\n";
    result += std::string(name_width, ' ') + padded("cents", 8) + std::string(25, ' ') + padded("cents", 8) +
              std::string(23, ' ') + "cents\n";
    std::vector<InstrumentString> strings = strings_on_map(analysis);
    std::reverse(strings.begin(), strings.end());  // as a player says them
    for (const InstrumentString& string : strings) {
        for (const SurveyedStringFit& fit : analysis.neck.strings) {
            if (fit.string != string.number) continue;
            std::string line =
                padded(fmt::format("{:>2}  {}", string.number, string.open_note.text()), name_width);
            line += padded(rounded(fit.before.value(), 1), 8) + padded(mover(fit, look), 25) +
                    padded(rounded(fit.left_by_saddle.value(), 1), 8);
            if (fit.together) {
                const bool inches = look.unit == LengthUnit::inches;
                const double k = inches ? 1.0 / millimetres_per_inch.value() : 1.0;
                const auto short_length = [&](Uncertain<Millimetres> length) {
                    return rounded(k * length.value.value(),
                                   decimals_for(2.0 * k * length.uncertainty.value()), Sign::always);
                };
                line +=
                    padded(fmt::format("{}, {} {}", short_length(fit.together->saddle_toward_tail),
                                       short_length(fit.together->nut_toward_bridge), inches ? "in" : "mm"),
                           23) +
                    rounded(fit.together->left.value(), 1);
            } else {
                line += padded("not to be separated", 23) + "-";
            }
            result += without_trailing_spaces(line);
            if (bridge_decides) {
                result += std::string(name_width + 8, ' ') +
                          fmt::format("on this bridge {} {}, leaves {} cents\n",
                                      length_in_words({fit.on_this_bridge, Millimetres{0.05}}, look),
                                      fit.on_this_bridge.value() > 0.0 ? "to tail" : "to nut",
                                      rounded(fit.left_on_this_bridge.value(), 1));
            }
        }
    }
    return result +
           paragraph("",
                     fmt::format("Root mean square over the plucked frets. Saddle and {0}: the saddle toward "
                                 "the tail, the {0}'s edge toward the bridge; minus is the other way.",
                                 beginning(analysis)));
}

std::string neck_findings(const NeckAnalysis& analysis, const Look& look) {
    if (analysis.neck.notes.empty()) return {};
    std::string result = heading("Findings, in the order to mend them", look);
    int number = 0;
    for (const std::string& finding : findings_in_words(analysis, look))
        result += paragraph(fmt::format("{:>3}. ", ++number), finding);
    for (const std::string& remark : remarks_in_words(analysis, look))
        result += paragraph("  - ", remark);
    return result;
}

}  // namespace midspan
