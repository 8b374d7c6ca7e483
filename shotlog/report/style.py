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
.short { background: var(--wash); border-left: 5px solid var(--ink); padding: 10px 18px 6px; margin: 14px 0; }
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
.mark { white-space: nowrap; font-weight: 600; } td:nth-child(-n+3) { overflow-wrap: normal; }
@page { size: A4; margin: 14mm 12mm 15mm; }
@media print {
  html, body { background: #fff; } body { max-width: none; padding: 0; font-size: 10.5pt; } nav { display: none; }
  section[id^="press-"], #inserts { break-before: page; }
  section[id^="press-"] > h2, #inserts > h2 { border-top: 0; margin-top: 0; padding-top: 0; }
  h2, h3, caption, thead { break-after: avoid; } p, li { orphans: 3; widows: 3; }
  figure, tr, li, dl, .note, .short, .caution { break-inside: avoid; }
  .note, figcaption, .note + figure { break-before: avoid; }
  tbody tr:nth-child(-n+2) { break-after: avoid; } tbody tr:nth-last-child(-n+2) { break-before: avoid; }
  thead { display: table-header-group; } table { font-size: 8.6pt; min-width: 0; } td, th { padding-right: 8px; }
  .n { padding-right: 12px; } .wide { overflow: visible; }
  .short { -webkit-print-color-adjust: exact; print-color-adjust: exact; }
}
"""
