// sheet_style.hpp: how the setup sheet looks: black ink on paper, on the phone in one column.
//
// Room: view. Pure. May include: nothing.
#pragma once

#include <string_view>

namespace midspan {

inline constexpr std::string_view sheet_style = R"css(
@page { margin: 11mm 13mm; }
:root { color-scheme: light; }
* { box-sizing: border-box; }
body { margin: 0; background: #fff; color: #000; font: 15px/1.4 system-ui, "Liberation Sans", Arial, sans-serif; }
main { max-width: 820px; margin: 0 auto; padding: 16px; overflow-wrap: anywhere; }
header { border-bottom: 3px solid #000; margin-bottom: 10px; }
header p { margin: 0 0 4px; }
h1 { margin: 0; font-size: 1.7em; line-height: 1.15; }
h2 { margin: 0 0 4px; font-size: 1em; border-bottom: 1px solid #000; }
section { margin: 0 0 12px; }
ul, ol { margin: 0; padding-left: 1.4em; }
.short { font-size: 1.1em; }
.pictures, .columns { display: flex; flex-wrap: wrap; gap: 4px 28px; }
figure { margin: 0 0 12px; min-width: 0; }
.errors { flex: 44 1 360px; }
.bridge { flex: 33 1 270px; }
.columns > section { flex: 1 1 270px; min-width: 0; }
figcaption { font-weight: bold; border-bottom: 1px solid #000; margin-bottom: 6px; }
svg { display: block; width: 100%; height: auto; max-width: 520px; }
.neck { overflow-x: auto; }
.neck svg { max-width: none; min-width: 500px; }
table { width: 100%; border-collapse: collapse; }
th, td { text-align: left; vertical-align: top; padding: 3px 8px 3px 0; border-bottom: 1px solid #999; }
thead th { border-bottom: 1px solid #000; font-weight: normal; font-size: .87em; }
tbody th, thead th, .n { white-space: nowrap; }
.bad { font-weight: bold; }
.small { margin: 4px 0 0; font-size: .87em; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 2px 12px; margin: 0; }
dt { font-size: .93em; }
dd { margin: 0; white-space: pre-line; }
section p { margin: 0; }
footer { display: flex; flex-wrap: wrap; gap: 28px; margin-top: 34px; }
footer div { flex: 1 1 160px; border-top: 1px solid #000; padding-top: 2px; font-size: .87em; }
tr, figure, li, footer, .columns > section { break-inside: avoid; }
h2 { break-after: avoid; }
@media (max-width: 540px) {
main { padding: 12px; }
table, tbody, tr, th, td { display: block; }
thead { display: none; }
th, td { border: 0; padding: 0; }
tbody th, .n { white-space: normal; }
tr { border-bottom: 1px solid #999; padding: 5px 0; }
td[data-is]::before { content: attr(data-is) ": "; }
}
@media print {
body { font-size: 9.6pt; line-height: 1.3; }
main { max-width: none; padding: 0; }
section, figure { margin-bottom: 7pt; }
.neck svg { width: auto; max-width: 100%; min-width: 0; max-height: 66mm; margin: 0 auto; }
}
)css";

}  // namespace midspan
