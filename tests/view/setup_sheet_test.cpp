// setup_sheet_test.cpp: the sheet tells the truth of the visit, and nothing else gets into it.
#include "midspan/view/setup_sheet.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <string>
#include <vector>

#include "record/sample_record.hpp"
#include "support/temp_folder.hpp"
#include "view/hand_made_visit.hpp"
#include "view/sheet_content.hpp"

namespace midspan::test {
namespace {

constexpr LengthUnit mm = LengthUnit::millimetres;

std::string sheet(const InstrumentEntry& entry, const Visit& visit) { return setup_sheet(entry, visit, mm); }

bool says(const std::string& text, std::string_view what) { return text.find(what) != std::string::npos; }

/// The numbers behind `name="` in every element that begins with `element`, in their order.
std::vector<double> numbers(const std::string& text, const std::string& element, const std::string& name) {
    std::vector<double> found;
    for (auto at = text.find(element); at != std::string::npos; at = text.find(element, at + 1)) {
        const auto end = text.find('>', at);
        const auto value = text.find(' ' + name + "=\"", at);
        if (value < end) found.push_back(std::stod(text.substr(value + name.size() + 3)));
    }
    return found;
}

/// The text with everything between < and > alone left.
std::string tags(const std::string& text) {
    std::string result;
    bool inside = false;
    for (const char c : text) {
        if (c == '<') inside = true;
        if (inside) result += c;
        if (c == '>') inside = false;
    }
    return result;
}

/// What the HTML validator has to say; empty when all is well.
std::string validated(const std::string& text, const std::string& options) {
    const TempFolder folder;
    std::ofstream{folder.file("text"), std::ios::binary} << text;
    const std::string said = folder.file("said");
    const std::string command =
        "tidy -q -e -utf8 " + options + " '" + folder.file("text") + "' 2>'" + said + "'";
    const int status = std::system(command.c_str());
    std::ifstream file{said};
    const std::string words{std::istreambuf_iterator<char>{file}, {}};
    return status == 0 ? words : "tidy ended with " + std::to_string(status) + ": " + words;
}

/// A visit with this text wherever somebody may have typed one.
std::pair<InstrumentEntry, Visit> typed_everywhere(const std::string& text) {
    InstrumentEntry entry = hand_made_entry();
    Visit visit = hand_made_visit();
    entry.instrument.name = entry.strings = entry.notes = text;
    visit.who = visit.strings = visit.work_done = visit.notes = visit.day = text;
    visit.strings_fitted_on = text;
    for (BenchMeasurement& m : visit.measurements)
        m.note = m.method.tool = m.method.pickup = text;
    return {entry, visit};
}

}  // namespace

TEST_SUITE("physics") {
    TEST_CASE("a sharp string lies right of zero and a flat one left, to the scale of the ticks") {
        const std::string pictures = setup_pictures(hand_made_entry(), hand_made_visit(), mm);
        // Marks of strings 6, 6, 5, 5, 4 ...: before and after in turn; the legend's come last.
        const std::vector<double> marks = numbers(pictures, "<circle", "cx");
        REQUIRE(marks.size() == 14);
        const double zero = 172.0;
        const double cent = (marks[0] - zero) / 6.39;
        CHECK(cent > 0.0);
        CHECK((marks[1] - zero) / cent == doctest::Approx(0.12).epsilon(0.1));
        CHECK((marks[4] - zero) / cent == doctest::Approx(-4.0).epsilon(0.01));
        CHECK((marks[7] - zero) / cent == doctest::Approx(3.4).epsilon(0.01));
    }

    TEST_CASE("a saddle that went toward the tail stands farther from the nut, to scale") {
        const auto strings = strings_over(hand_made_entry(), hand_made_visit());
        CHECK(strings[0].move->toward_tail == Millimetres{2.38});
        CHECK(strings[2].move->toward_tail == Millimetres{-1.5});
        const std::string pictures = setup_pictures(hand_made_entry(), hand_made_visit(), mm);
        const std::string bridge = pictures.substr(pictures.rfind("<svg "));
        // The plate first, then each string: dashed where it stood if it moved, filled where it stands.
        const std::vector<double> y = numbers(bridge, "<rect", "y");
        REQUIRE(y.size() == 10);
        CHECK(y[2] > y[1]);
        CHECK(y[5] < y[4]);
        CHECK((y[2] - y[1]) / (y[5] - y[4]) == doctest::Approx(2.38 / -1.5).epsilon(0.01));
    }

    TEST_CASE("moves nobody wrote down are worked out from what they changed, and said to be") {
        Visit visit = hand_made_visit();
        visit.moves.clear();
        const auto strings = strings_over(hand_made_entry(), visit);
        REQUIRE(strings[0].move);
        CHECK(strings[0].move->worked_out);
        // 0.374 mm a cent at 648 mm, for 6.27 cents.
        CHECK(strings[0].move->toward_tail.value() == doctest::Approx(2.347).epsilon(0.001));
        CHECK(says(sheet(hand_made_entry(), visit), "about 2.35 mm toward the tail"));
    }

    TEST_CASE("turns of a known screw are a distance") {
        Visit visit = hand_made_visit();
        visit.moves = {{"2026-03-14T09:50:00Z", 6, {}, Turns{2.0}, ""}};
        CHECK(strings_over(hand_made_entry(), visit)[0].move->toward_tail.value() == doctest::Approx(1.27));
    }

    TEST_CASE("a left-handed instrument has string 1 on the left") {
        InstrumentEntry entry = hand_made_entry();
        const auto x_of = [&entry](const std::string& label) {
            const std::string page = sheet(entry, hand_made_visit());
            const auto element = page.rfind("<text x=\"", page.rfind('>' + label + "</text>"));
            return std::stod(page.substr(element + 9));
        };
        CHECK(x_of("6") < x_of("1"));
        entry.instrument.left_handed = true;
        CHECK(x_of("1") < x_of("6"));
        CHECK(says(sheet(entry, hand_made_visit()), "left-handed"));
    }
}

TEST_SUITE("properties") {
    TEST_CASE("a customer reads what changed, and what was not put right and why") {
        const std::string page = sheet(hand_made_entry(), hand_made_visit());
        CHECK(says(page,
                   "4 of 6 strings now play in tune at the 12th fret, certainly within ±1.5 cents. As "
                   "received it was 2."));
        CHECK(says(page, "Relief went from 0.40 mm to 0.25 mm."));
        CHECK(says(page,
                   "String 3 (G3) is still sharp at the 12th fret: +3.40 ± 0.20 cents. Its saddle would have "
                   "to stand 1.27 mm farther toward the tail, which is more than it can travel."));
        CHECK(says(page,
                   "String 1 (E4) is not certain: +1.45 ± 0.20 cents lie neither clearly inside ±1.5 nor "
                   "clearly outside."));
    }

    TEST_CASE("every measurement stands with its method, in both units") {
        const std::string page = sheet(hand_made_entry(), hand_made_visit());
        CHECK(says(page, "held at fret 1 and the last, read at fret 7, feeler gauge"));
        CHECK(says(page, "0.40 mm (0.016 in)"));
        CHECK(says(setup_sheet(hand_made_entry(), hand_made_visit(), LengthUnit::inches),
                   "0.016 in (0.40 mm)"));
    }

    TEST_CASE("the same thing by another method is another row") {
        Visit visit = hand_made_visit();
        const std::size_t rows = measured_over(visit).size();
        visit.measurements.back().method = visit.measurements.front().method;
        visit.measurements.back().quantity = BenchQuantity::relief;
        visit.measurements.back().string.reset();
        CHECK(measured_over(visit).size() == rows - 1);
        visit.measurements.back().method.read_at = 8;
        CHECK(measured_over(visit).size() == rows);
    }

    TEST_CASE("what was measured once after the saddles were moved was not received so") {
        const Visit visit = hand_made_visit();
        const auto measured = measured_over(visit);
        CHECK(measured.back().before == nullptr);
        CHECK(measured.back().after->value == Millimetres{0.5});
    }

    TEST_CASE("the page needs nothing from outside and runs nothing") {
        const std::string page = sheet(hand_made_entry(), hand_made_visit());
        for (const char* outside :
             {"<script", "<link", "<img", "<iframe", "src=", "href", "url(", "@import", "http"}) {
            CAPTURE(outside);
            CHECK_FALSE(says(page, outside));
        }
    }

    TEST_CASE("the pictures alone are those of the page, in one file") {
        const std::string pictures = setup_pictures(hand_made_entry(), hand_made_visit(), mm);
        CHECK(pictures.starts_with("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns="));
        CHECK(numbers(pictures, "<circle", "cx") ==
              numbers(sheet(hand_made_entry(), hand_made_visit()), "<circle", "cx"));
    }

    TEST_CASE("a validator finds nothing wrong with page and pictures") {
        const auto [entry, visit] = typed_everywhere("<b>\"loud\" & 'late'</b>");
        CHECK(validated(sheet(hand_made_entry(), hand_made_visit()), "") == "");
        CHECK(validated(sheet(entry, visit), "") == "");
        CHECK(validated(setup_pictures(entry, visit, mm), "-xml") == "");
        CHECK(validated("<!DOCTYPE html><title>x</title><p>a<b>c", "") != "");
    }
}

TEST_SUITE("bad input") {
    TEST_CASE("text of the record never becomes a part of the page") {
        const auto [tame, tame_visit] = typed_everywhere("guitar");
        for (const char* text : {"<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>",
                                 "'; </style>", "</title></svg><!--", "&lt;b&gt;", "]]>", "\xFF\xFE<\x01"}) {
            CAPTURE(text);
            const auto [entry, visit] = typed_everywhere(text);
            CHECK(tags(sheet(entry, visit)) == tags(sheet(tame, tame_visit)));
            CHECK(tags(setup_pictures(entry, visit, mm)) == tags(setup_pictures(tame, tame_visit, mm)));
        }
    }

    TEST_CASE("a visit with a survey has the map of the neck and what it found, the last one of them") {
        Visit visit = hand_made_visit();
        CHECK_FALSE(says(sheet(hand_made_entry(), visit), "The whole neck"));
        NeckReading survey = sample_survey();
        survey.analysis.neck.notes[0].error.value = Cents{77.0};
        visit.surveys = {survey, sample_survey()};
        const std::string page = sheet(hand_made_entry(), visit);
        CHECK(says(page, "The whole neck"));
        CHECK(says(page, "surveyed 2026-03-14 at 09:32 UTC"));
        CHECK(says(page, "+3.5</text>"));
        CHECK_FALSE(says(page, "+77"));
        CHECK(says(page, "<li>fret 2: 3.5 ± 1.0 cents sharp on all strings."));
        CHECK(says(page, "<li>either the height of the capo at fret 1 on all strings or all saddles"));
        CHECK(says(page, "Judged by what strings"));
        CHECK(validated(page, "") == "");
        CHECK(says(setup_pictures(hand_made_entry(), visit, mm), "Errors of every plucked note"));
    }

    TEST_CASE("a visit with nothing in it is still a sheet, and says nothing it does not know") {
        InstrumentEntry entry = hand_made_entry();
        entry.fitted.clear();
        const Visit visit{
            1, "2026-03-14", "2026-03-14T09:26:53Z", {}, "", "", {}, {}, {}, {}, "", "", {}, {}, {}, {}};
        const std::string page = sheet(entry, visit);
        CHECK(says(page, "Parlour guitar"));
        CHECK_FALSE(says(page, "Intonation"));
        CHECK_FALSE(says(page, "Measurements"));
        CHECK(validated(page, "") == "");
    }

    TEST_CASE("an error far off the picture points there and keeps its number") {
        Visit visit = hand_made_visit();
        visit.readings.front().analysis = six_strings({95.0, 0.3, -4.0, 9.8, -0.4, 1.4});
        const std::string page = sheet(hand_made_entry(), visit);
        CHECK(says(page, "+95.00 ± 0.20"));
        for (const double x : numbers(page, "<circle", "cx"))
            CHECK((x > 0.0 && x < 440.0));
    }

    TEST_CASE("a string that was never compared is listed as not measured") {
        Visit visit = hand_made_visit();
        for (IntonationReading& reading : visit.readings)
            reading.analysis.strings[0].comparison.reset();
        const std::string page = sheet(hand_made_entry(), visit);
        CHECK(says(page, "String 1 (E4) was not measured."));
    }
}

}  // namespace midspan::test
