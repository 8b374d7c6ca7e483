"""The report's style sheet: one column that reads on a screen and prints on A4 in grey as well as in colour."""

__all__ = ["STYLE"]

STYLE = """
:root { --ink: #1b1f24; --soft: #545c66; --line: #c9cdd2; --wash: #f4f2ec; --warn: #8a3413; }
* { box-sizing: border-box; }
html { background: #e9e6df; }
body { margin: 0 auto; max-width: 1060px; padding: 26px 44px 60px; background: #fffefb; color: var(--ink);
  font: 15px/1.5 "Source Sans 3", "Noto Sans", "DejaVu Sans", "Segoe UI", Arial, sans-serif; }
h1 { font-size: 27px; line-height: 1.2; margin: 0 0 4px; }
h2 { font-size: 20px; margin: 38px 0 8px; padding-top: 10px; border-top: 3px double var(--line); }
h3 { font-size: 16px; margin: 24px 0 6px; }
p { margin: 6px 0 10px; max-width: 78ch; }
ul { margin: 6px 0 12px; padding-left: 22px; } li { margin: 3px 0; max-width: 82ch; }
.lead { color: var(--soft); margin-bottom: 16px; }
.note { color: var(--soft); font-size: 13px; }
.caution { border: 1.5px solid var(--ink); padding: 8px 14px; font-size: 13.5px; max-width: none; }
.broken { border: 3px solid var(--warn); padding: 8px 14px; font-weight: 600; }
nav { font-size: 13.5px; margin: 12px 0; } nav a { margin-right: 16px; color: var(--ink); }
.wide { overflow-x: auto; margin: 8px 0 14px; }
table { border-collapse: collapse; font-size: 13px; line-height: 1.35; min-width: 50%; }
caption { text-align: left; font-weight: 600; padding: 2px 0 4px; }
th, td { text-align: left; vertical-align: top; padding: 4px 12px 4px 0; border-bottom: 1px solid var(--line); }
th { border-bottom: 1.5px solid var(--ink); font-weight: 600; vertical-align: bottom; }
td { font-variant-numeric: tabular-nums; } .n { text-align: right; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: 2px 18px; font-size: 13.5px; margin: 8px 0 14px; }
dt { color: var(--soft); } dd { margin: 0; overflow-wrap: anywhere; }
figure { margin: 12px 0 18px; } figure svg { width: 100%; height: auto; display: block; }
figcaption { font-size: 13px; color: var(--soft); margin-top: 2px; }
svg * { stroke-linejoin: round; stroke-linecap: butt; }
code { font-family: "DejaVu Sans Mono", Consolas, monospace; font-size: 12px; overflow-wrap: anywhere; }
.mark { white-space: nowrap; font-weight: 600; }
#decisions table, #inspect table, #sign table { width: 100%; } #happened ul { list-style: none; padding-left: 0; }
.box { display: inline-block; width: 1.15em; height: 1.15em; border: 1.2px solid var(--ink); vertical-align: -0.2em; }
#decisions td:last-child, #decisions th:last-child { width: 12%; }
#decisions th:nth-last-child(-n+4) { font-weight: 400; }
#inspect td:nth-last-child(-n+2), #decisions td:last-child { border-bottom-color: var(--ink); }
#inspect th:nth-last-child(2) { width: 18%; } #inspect th:last-child { width: 8%; }
#sign td { height: 2.3em; vertical-align: bottom; }
#sign td:nth-child(even) { border-bottom-color: var(--ink); width: 22%; }
#sign th { border-bottom: 0; } #inspect td { height: 2.1em; } #inspect td:nth-child(3) { white-space: nowrap; }
.pair { display: grid; grid-template-columns: 1fr 1fr; gap: 4px 18px; } .pair figure { margin: 0; }
.pictures { display: grid; grid-template-columns: repeat(3, 1fr); gap: 6px 14px; } .pictures figure { margin: 0; }
.pictures img { width: 100%; max-height: 60mm; object-fit: contain; object-position: left; display: block; }
@media (max-width: 800px) { .pair, .pictures { grid-template-columns: 1fr; } }
@media screen and (max-width: 700px) {
  body { padding: 14px 14px 40px; } #decisions :is(td, th):nth-last-child(-n+4) { display: none; }
  #inspect :is(td, th):nth-last-child(-n+2) { display: none; }
}
#reading dt { break-after: avoid; }
@page { size: A4; margin: 10mm 12mm 13mm; @bottom-right { content: counter(page) " of " counter(pages);
  font: 8pt "DejaVu Sans", Arial, sans-serif; } }
@media print {
  html, body { background: #fff; } body { max-width: none; padding: 0; font-size: 8.8pt; line-height: 1.32; }
  nav { display: none; } h1 { font-size: 15pt; } h2 { font-size: 12pt; margin: 10px 0 3px; padding-top: 4px; }
  h3 { font-size: 10pt; margin: 9px 0 2px; } p, ul, .wide, figure, dl { margin: 3px 0 5px; } li { margin: 1px 0; }
  p, li { max-width: none; } .lead { margin-bottom: 4px; } .note, figcaption, .caution, dl { font-size: 7.6pt; }
  .caution { padding: 3px 8px; } #evidence { break-before: page; } #first-pages h2 { border-top-width: 1px; }
  h2, h3, caption, thead { break-after: avoid; } p, li { orphans: 3; widows: 3; }
  #day figure { margin: 1px 0; } #happened li { font-size: 8.2pt; }
  figure, tr, li, dl, .note, .caution, #sign, #happened { break-inside: avoid; }
  .note { break-before: avoid; }
  tbody tr:first-child { break-after: avoid; } tbody tr:last-child { break-before: avoid; }
  thead { display: table-header-group; } table { font-size: 6.9pt; line-height: 1.18; min-width: 0; }
  #first-pages table { font-size: 7.7pt; }
  td, th { padding: 1.5px 7px 1.5px 0; } .n { padding-right: 9px; } .wide { overflow: visible; }
  code { font-size: 7.2pt; }
  .said li { font-size: 7.1pt; } .said ul { list-style: none; padding-left: 0; }
  #reading dl { display: block; columns: 2; column-gap: 22px; font-size: 7.1pt; } #reading dd { margin-bottom: 3px; }
}
"""
