// length.cpp: millimetres and inches, decimal or in fractions.
//
// Room: instrument. Pure.
#include "midspan/instrument/length.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <string>

#include "instrument/typed_text.hpp"

namespace midspan {
namespace {

struct TypedLength {
    double amount;
    bool inches;

    [[nodiscard]] Millimetres length() const {
        return inches ? amount * millimetres_per_inch : Millimetres{amount};
    }
};

/// Takes a unit off the end of `text`, if it is there.
bool take_unit(std::string_view& text, std::string_view unit) {
    const bool there =
        text.size() >= unit.size() &&
        std::equal(unit.begin(), unit.end(), text.end() - static_cast<std::ptrdiff_t>(unit.size()),
                   [](char wanted, char c) { return wanted == (c >= 'A' && c <= 'Z' ? c - 'A' + 'a' : c); });
    if (there) text = trimmed(text.substr(0, text.size() - unit.size()));
    return there;
}

/// "3/4", or "24 3/4" and "24-3/4".
std::optional<double> mixed_fraction(std::string_view text) {
    const auto slash = text.find('/');
    const auto gap = text.substr(0, slash).find_last_of(" -");
    const auto numerator_begin = gap == std::string_view::npos ? 0 : gap + 1;
    const auto numerator = unsigned_number(text.substr(numerator_begin, slash - numerator_begin));
    const auto denominator = unsigned_number(text.substr(slash + 1));
    const auto whole = gap == std::string_view::npos ? 0.0 : unsigned_number(trimmed(text.substr(0, gap)));
    if (!numerator || !denominator || !whole || *denominator == 0.0) return std::nullopt;
    return *whole + *numerator / *denominator;
}

std::optional<TypedLength> typed_length(std::string_view text) {
    constexpr std::array<std::string_view, 6> inch_units{"inches", "inch", "in", "\"", "″", "”"};
    text = trimmed(text);
    const bool inches = std::any_of(inch_units.begin(), inch_units.end(),
                                    [&text](std::string_view unit) { return take_unit(text, unit); });
    if (!inches) take_unit(text, "mm");

    const bool negative = text.starts_with('-');
    if (negative) text.remove_prefix(1);
    const bool fraction = text.find('/') != std::string_view::npos;
    if (fraction && !inches) return std::nullopt;

    const auto amount = fraction ? mixed_fraction(text) : unsigned_number(text);
    if (!amount) return std::nullopt;
    const TypedLength typed{negative ? -*amount : *amount, inches};
    if (!std::isfinite(typed.length().value())) return std::nullopt;
    return typed;
}

Error no_length(std::string subject) {
    return Error{Fault::usage, std::move(subject), "no length",
                 "write millimetres as 648 or 628.65, inches as 25.5in or \"24 3/4 in\""};
}

constexpr bool possible(Millimetres scale_length) {
    return scale_length >= shortest_scale_length && scale_length <= longest_scale_length;
}

}  // namespace

Result<Millimetres> parse_length(std::string_view text) {
    const auto typed = typed_length(text);
    if (!typed) return no_length("length " + quoted(text));
    return typed->length();
}

Result<Millimetres> parse_scale_length(std::string_view text) {
    const std::string subject = "scale length " + quoted(text);
    const auto typed = typed_length(text);
    if (!typed) return no_length(subject);
    if (possible(typed->length())) return typed->length();

    const double amount = typed->amount;
    if (amount <= 0.0) {
        return Error{Fault::usage, subject, "not above zero", "measure from the nut to the saddle line"};
    }
    if (!typed->inches && possible(amount * millimetres_per_inch)) {
        return Error{Fault::usage, subject, "too short for millimetres",
                     fmt::format("{0:g} mm? write {0:g}in", amount)};
    }
    if (typed->inches && possible(Millimetres{amount})) {
        return Error{Fault::usage, subject, "too long for inches",
                     fmt::format("{0:g} inches? write {0:g}mm", amount)};
    }
    return Error{Fault::usage, subject, "outside 200 to 1,500 mm", "measure from the nut to the saddle line"};
}

}  // namespace midspan
