// escaped.hpp: text that stays text inside HTML and SVG.
//
// Room: view. Pure. May include: nothing.
#pragma once

#include <string>
#include <string_view>

namespace midspan {

/// `text` as content or attribute of HTML 5 and SVG: & < > " ' become references. What may stand in neither
/// becomes U+FFFD: control characters but tab and line ends, bytes that are no UTF-8, U+FFFE and U+FFFF.
///
/// Source: HTML Standard 13.2.3.5, XML 1.0 production 2; UTF-8 as in RFC 3629, from memory.
[[nodiscard]] std::string escaped(std::string_view text);

}  // namespace midspan
