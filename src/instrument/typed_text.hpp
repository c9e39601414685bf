// typed_text.hpp: what every parser of typed text needs.
//
// Room: instrument, private. Pure. May include: ground.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace midspan {

/// `text` without the blanks around it.
[[nodiscard]] std::string_view trimmed(std::string_view text);

/// `text` in quotes, fit for one line of a message: control characters become '?', and what goes beyond 60
/// bytes "...".
[[nodiscard]] std::string quoted(std::string_view text);

/// The parts of `text` between commas, each trimmed; an empty text has no parts.
[[nodiscard]] std::vector<std::string_view> between_commas(std::string_view text);

/// A decimal number without sign that takes up all of `text`, whatever the locale: "648", "0.5", ".5".
/// Nothing for anything else: exponents, "nan", "inf", a decimal comma, trailing rubbish.
[[nodiscard]] std::optional<double> unsigned_number(std::string_view text);

}  // namespace midspan
