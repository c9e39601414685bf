// bench_page.cpp: the screen at the bench, composed line by line.
//
// Room: view. Pure.
#include "midspan/view/bench_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <optional>

#include "midspan/view/bridge_drawing.hpp"
#include "view/bench_phrases.hpp"
#include "view/big_letters.hpp"
#include "view/columns.hpp"
#include "view/figures.hpp"
#include "view/move_words.hpp"

namespace midspan {
namespace {

constexpr int margin = 1;
constexpr int widest_big_line = 78;  // of scale 1
constexpr int largest_scale = 4;
constexpr std::size_t lane_width = 58;  // of the bridge's drawing: the name of the string and its lane
constexpr Cents near_enough_to_pitch{2.0};
constexpr std::string_view keys = "u undo    r restart string    q or Enter finish";

/// The first `width` columns of UTF-8 text.
std::string cut(std::string_view text, std::size_t width) {
    std::size_t end = 0;
    std::size_t count = 0;
    while (end < text.size()) {
        if ((static_cast<unsigned char>(text[end]) & 0xC0U) != 0x80U && ++count > width) break;
        ++end;
    }
    return std::string{text.substr(0, end)};
}

std::string error_of(const StringResult& result, const Look& look) {
    return with_uncertainty(result.error.value.value(), 2.0 * result.error.uncertainty.value(),
                            plus_minus(look), Sign::always);
}

std::string capital(std::string words) {
    words[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(words[0])));
    return words;
}

/// A line in big characters and how it stands out.
struct BigLine {
    std::string text;
    Tone tone = Tone::strong;
};

class Composer {
public:
    Composer(const BenchState& state, const Instrument& instrument, const Analysis& analysis,
             const std::string& notice, const Look& look, PageSize size)
        : state_{state},
          instrument_{instrument},
          analysis_{analysis},
          notice_{notice},
          look_{look},
          size_{size} {
        const std::optional<int> subject = state.current ? state.current : state.awaited.string;
        if (subject) subject_ = &state.strings[static_cast<std::size_t>(*subject - 1)];
    }

    std::vector<PageLine> page() && {
        const bool small = size_.columns < smallest_page.columns || size_.rows < smallest_page.rows;
        if (small) {
            add_words();
            add(keys_line(), Tone::faint);
        } else {
            add_big_and_words();
        }
        for (PageLine& line : lines_) {
            line.text = cut(line.text, static_cast<std::size_t>(size_.columns));
        }
        if (lines_.size() > static_cast<std::size_t>(size_.rows))
            lines_.resize(static_cast<std::size_t>(size_.rows));
        return std::move(lines_);
    }

private:
    void add(std::string text, Tone tone = Tone::plain) {
        lines_.push_back({std::string(margin, ' ') + std::move(text), tone});
    }

    // ---- in big characters

    [[nodiscard]] BigLine pluck_line() const {
        if (state_.ended) return {"FINISHED"};
        const Awaited& next = state_.awaited;
        if (!next.string) {
            const bool all_done = std::ranges::all_of(
                state_.strings, [](const BenchString& string) { return string.stage == StringStage::done; });
            if (all_done) return {"ALL DONE", Tone::good};
            return {"ANY HARMONIC"};
        }
        return {fmt::format("{} {} {}", *next.string, instrument_.string(*next.string).open_note.text(),
                            next.after_move                  ? "TURN TUNE"
                            : next.kind == NoteKind::fretted ? "FRETTED"
                                                             : "HARMONIC")};
    }

    [[nodiscard]] BigLine saddle_line() const {
        if (state_.last_refusal && !is_by_hand(state_.last_refusal->reason))
            return {"AGAIN", Tone::attention};
        if (subject_ == nullptr) return {""};
        // The string to pluck may be another by now.
        const std::string whose =
            state_.awaited.string == subject_->number ? "" : fmt::format("{}: ", subject_->number);
        switch (subject_->stage) {
            case StringStage::done:
                return {whose + "GOOD ENOUGH", Tone::good};
            case StringStage::to_move:
                return {whose + big_move(subject_->result->move.toward_tail), Tone::attention};
            case StringStage::measuring:
                if (is_being_tuned()) return {whose + tuning_line()};
                if (subject_->result && subject_->result->pairs >= 2) return {whose + "MORE PAIRS"};
                return {whose + fmt::format("{} OF 2 PAIRS", subject_->result ? subject_->result->pairs : 0)};
            case StringStage::untouched:
                return {is_being_tuned() ? whose + tuning_line() : std::string{}};
        }
        return {""};
    }

    /// An open string was plucked, and nothing else since.
    [[nodiscard]] bool is_being_tuned() const {
        return subject_->harmonics == 0 && subject_->tuning && subject_->tuning->from_open;
    }

    [[nodiscard]] std::string tuning_line() const {
        const Cents off = subject_->tuning->off;
        if (magnitude(off) < near_enough_to_pitch) return "IN TUNE";
        return fmt::format("TUNE {} {}", rounded(magnitude(off).value(), 0),
                           off > Cents{0.0} ? "DOWN" : "UP");
    }

    [[nodiscard]] BigLine turns_line() const {
        if (subject_ == nullptr || subject_->stage != StringStage::to_move) return {""};
        const StringResult& result = *subject_->result;
        const std::string turns =
            screw_in_words(result.turns.value, instrument_.string(subject_->number).saddle);
        const std::string about = result.turns_from == TurnsFrom::guess ? "ABOUT " : "";
        if (fits(about + turns)) return {about + turns, Tone::attention};
        // The whole of it stands in words below.
        return {about + turns_in_words(result.turns.value), Tone::attention};
    }

    static bool is_by_hand(Refusal reason) {
        return reason == Refusal::undone || reason == Refusal::restarted;
    }

    [[nodiscard]] std::string big_move(Millimetres toward_tail) const {
        const Millimetres distance = magnitude(toward_tail);
        const bool inches = look_.unit == LengthUnit::inches;
        const std::string length = inches ? fmt::format("{} IN", rounded(distance / millimetres_per_inch, 3))
                                          : fmt::format("{} MM", rounded(distance.value(), 1));
        return length + (toward_tail > Millimetres{0.0} ? " TO TAIL" : " TO NUT");
    }

    [[nodiscard]] static bool fits(std::string_view text) { return big_columns(text, 1) <= widest_big_line; }

    void add_big(const BigLine& line, int scale) {
        while (scale > 1 && big_columns(line.text, scale) > size_.columns - 2 * margin)
            --scale;
        const std::vector<std::string> rows = big_letters(line.text, scale, look_.utf8);
        for (const std::string& row : rows)
            add(row, line.tone);
    }

    // ---- in words

    [[nodiscard]] std::string result_words() const {
        if (state_.last_refusal) {
            const RefusedNote& refused = *state_.last_refusal;
            return refused.string ? string_in_words(instrument_, *refused.string) + ": " + refused.message
                                  : refused.message;
        }
        if (subject_ == nullptr) return "Pluck the 12th-fret harmonic of any string.";
        if (!subject_->result) return string_in_words(instrument_, subject_->number);
        const StringResult& result = *subject_->result;
        if (result.verdict != Verdict::move)
            return string_in_words(instrument_, subject_->number) + ": " + result_in_words(result, look_);
        // What to do stands first: a narrow window cuts the end.
        return fmt::format("{}, {}; {} cents", plain_move(result.move.toward_tail, look_),
                           turns_of(result, instrument_), error_of(result, look_));
    }

    [[nodiscard]] std::string string_words() const {
        if (!notice_.empty()) return printable(notice_);
        if (subject_ == nullptr) return {};
        std::string words;
        const auto& screw = subject_->screw;
        const bool learned = screw && screw->outcome == MoveOutcome::as_expected;
        if (screw && !learned && screw->outcome != MoveOutcome::unclear)
            words += capital(screw_in_words(*screw)) + ".  ";
        if (subject_->tuning) words += "Open string: " + tuning_in_words(*subject_->tuning) + ".  ";
        if (!subject_->earlier_rounds.empty()) {
            words += "Before:";
            for (const StringResult& earlier : subject_->earlier_rounds)
                words += fmt::format(" {}", rounded(earlier.error.value.value(), 1, Sign::always));
            words += " cents.  ";
        }
        if (learned)
            words += fmt::format("A turn is {} cents.", rounded(screw->cents_per_turn.value.value(), 1));
        return words;
    }

    [[nodiscard]] std::string note_words() const {
        if (state_.ringing) {
            const RingingReading& r = *state_.ringing;
            return fmt::format(
                "Rings: string {}, {}, {} cents from its {}", r.string, kind_in_words(r.kind),
                with_uncertainty(r.off.value(), 2.0 * r.uncertainty.value(), plus_minus(look_), Sign::always),
                r.kind == NoteKind::fretted ? "harmonic" : "note");
        }
        if (state_.last_note) {
            const FinishedNote& n = *state_.last_note;
            return fmt::format("Last: string {}, {} {}: {}", n.string, kind_in_words(n.kind), n.number,
                               note_in_words(n, look_));
        }
        return state_.last_refusal ? "Last: not counted" : "Last: nothing yet";
    }

    /// -60 to 0 dB, the good range drawn as a bar, the last pluck's level as a mark on it.
    [[nodiscard]] std::string level_words() const {
        constexpr double lowest = -60.0;
        constexpr int width = 40;
        const auto column = [](double level) {
            return static_cast<std::size_t>(
                std::clamp<long>(std::lround((level - lowest) / -lowest * (width - 1)), 0, width - 1));
        };
        std::vector<std::string_view> cells(width, look_.utf8 ? "·" : ".");
        for (std::size_t i = column(lowest_good_level.value()); i <= column(highest_good_level.value()); ++i)
            cells[i] = look_.utf8 ? "━" : "=";
        std::string_view what = "pluck a string";
        if (state_.level) {
            cells[column(state_.level->level.value())] = look_.utf8 ? "▲" : "^";
            what = state_.level->band == InputLevel::good        ? "good"
                   : state_.level->band == InputLevel::too_quiet ? "too quiet: come closer, or more gain"
                                                                 : "too loud: less gain";
        }
        std::string line = "Input ";
        for (const std::string_view cell : cells)
            line += cell;
        return line + ' ' + std::string{what};
    }

    [[nodiscard]] static std::string keys_line() { return std::string{keys}; }

    // ---- the bridge

    [[nodiscard]] std::string beside(const BenchString& string) const {
        if (!string.result) return string.harmonics > string.fretted ? "harmonic heard" : "not yet";
        const std::string error = error_of(*string.result, look_);
        switch (string.stage) {
            case StringStage::done:
                return error + " done";
            case StringStage::to_move:
                return error + " move";
            default:
                return error;
        }
    }

    /// One lane a string, as a player says the tuning.
    [[nodiscard]] std::vector<PageLine> lanes() const {
        std::vector<std::string> drawn;
        const std::string drawing = bridge_drawing(analysis_, look_);
        for (std::size_t at = 0; at < drawing.size();) {
            const std::size_t end = std::min(drawing.find('\n', at), drawing.size());
            drawn.push_back(drawing.substr(at, end - at));
            at = end + 1;
        }
        std::vector<PageLine> lanes;
        for (std::size_t i = 0; i < state_.strings.size(); ++i) {
            const BenchString& string = state_.strings[state_.strings.size() - 1 - i];
            const std::size_t line = i + 2;  // below its two headings
            std::string lane = line < drawn.size() ? cut(drawn[line], lane_width) : empty_lane(string.number);
            lane = padded(std::move(lane), lane_width);
            const bool here = subject_ != nullptr && subject_->number == string.number;
            const Tone tone = here                                     ? Tone::strong
                              : string.stage == StringStage::done      ? Tone::good
                              : string.stage == StringStage::untouched ? Tone::faint
                                                                       : Tone::plain;
            lanes.push_back({(here ? ">" : " ") + lane + "  " + beside(string), tone});
        }
        return lanes;
    }

    [[nodiscard]] std::string empty_lane(int string) const {
        std::string lane =
            padded(fmt::format("{:>2}  {}", string, instrument_.string(string).open_note.text()), 8);
        for (std::size_t i = 8; i < lane_width; ++i)
            lane += i == 33 ? "?" : (look_.utf8 ? "·" : ".");
        return lane;
    }

    // ---- all of it

    void add_words() {
        add(awaited_in_words(state_.awaited, instrument_), Tone::strong);
        add(result_words(), Tone::strong);
        add(string_words());
        add(note_words());
        add(level_words());
        for (PageLine& lane : lanes())
            lines_.push_back(std::move(lane));
    }

    void add_big_and_words() {
        const int strings = static_cast<int>(state_.strings.size());
        const int below = 2 + 1 + strings + 3;  // words, heading, lanes, note, level and keys
        int big_lines = 3;
        while (big_lines > 1 && big_lines * big_rows(1) + below > size_.rows)
            --big_lines;
        int scale = 1;
        while (scale < largest_scale && widest_big_line * (scale + 1) <= size_.columns &&
               big_lines * (big_rows(scale + 1) + 1) + below <= size_.rows)
            ++scale;
        const int spare = size_.rows - big_lines * big_rows(scale) - below;
        const bool airy = spare >= big_lines + 3;
        const auto air = [&] {
            if (airy) lines_.push_back({});
        };

        if (big_lines >= 1) add_big(pluck_line(), scale);
        air();
        if (big_lines >= 2) add_big(saddle_line(), scale);
        air();
        if (big_lines >= 3) add_big(turns_line(), scale);
        air();
        add(result_words(), Tone::strong);
        add(string_words());
        air();
        lines_.push_back(
            {std::string(9, ' ') + padded("toward the nut", 35) + "toward the tail", Tone::faint});
        for (PageLine& lane : lanes())
            lines_.push_back(std::move(lane));
        air();
        add(note_words());
        add(level_words());
        air();
        add(keys_line(), Tone::faint);
    }

    const BenchState& state_;
    const Instrument& instrument_;
    const Analysis& analysis_;
    const std::string& notice_;
    const Look& look_;
    PageSize size_;
    const BenchString* subject_ = nullptr;
    std::vector<PageLine> lines_;
};

}  // namespace

std::vector<PageLine> bench_page(const BenchState& state, const Instrument& instrument,
                                 const Analysis& analysis, const std::string& notice, const Look& look,
                                 PageSize size) {
    return Composer{state, instrument, analysis, notice, look, size}.page();
}

}  // namespace midspan
