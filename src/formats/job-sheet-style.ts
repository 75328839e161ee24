/**
 * How a job sheet looks: hairlines and letters like a workshop drawing, dark on white, two
 * pages of A4 or Letter for a usual job. Nothing depends on colour or on a printed background,
 * and nothing is fetched. Text reaches a contrast of 4.5 : 1 (WCAG 2.2, 1.4.3), the least being
 * the grey #595959 with 7 : 1.
 */
export const JOB_SHEET_STYLE = `
@page { margin: 10mm 12mm; }
* { box-sizing: border-box; }
html { background: #e9e7e1; -webkit-text-size-adjust: 100%; text-size-adjust: 100%; }
body {
  margin: 1.5rem auto; padding: 12mm 13mm; max-width: 235mm; background: #fff; color: #1b1b1b;
  font: 10.5pt/1.42 "Helvetica Neue", Helvetica, Arial, sans-serif;
  font-variant-numeric: tabular-nums; overflow-wrap: break-word;
}
h1, h2, p, ol, ul, dl, dd, figure { margin: 0; padding: 0; }
header { display: grid; grid-template-columns: 1fr minmax(15em, 40%); gap: 0 7mm; align-items: end; padding-bottom: 2.5mm; border-bottom: 0.7mm solid; }
h1 { font-size: 1.85em; line-height: 1.14; font-weight: 600; letter-spacing: -0.01em; text-wrap: balance; }
.craft { margin-top: 0.3em; color: #595959; }
.verdict { display: grid; grid-template-columns: auto 1fr; gap: 0 0.7em; align-items: start; padding: 2mm 3mm; border: 0.35mm solid #1f4d36; font-size: 0.95em; line-height: 1.32; }
.verdict .mark { width: 1.9em; height: 1.9em; }
.verdict strong { display: block; font-size: 1.15em; color: inherit; }
.verdict span span { color: #1b1b1b; }
.not-ready { border: 0.8mm solid #8a2b14; }
.mark { width: 0.95em; height: 0.95em; vertical-align: -0.12em; }
.pass { color: #1f4d36; } .warning { color: #6b4700; } .fail { color: #8a2b14; }
.plan { display: grid; grid-template-columns: 1fr 36%; gap: 0 7mm; align-items: start; padding-top: 2.5mm; break-inside: avoid; }
.plan svg { display: block; width: 100%; height: auto; max-height: 120mm; }
figcaption { padding-top: 1mm; font-size: 0.82em; color: #595959; }
.plan dl { font-size: 0.95em; }
.plan dl div { display: flex; justify-content: space-between; gap: 1em; padding: 0.25em 0; border-bottom: 0.2mm solid #bbb; }
.plan dd { flex: 0 0 auto; max-width: 70%; text-align: right; font-weight: 600; }
section { margin-top: 3.2mm; }
h2 { padding-bottom: 0.6mm; border-bottom: 0.35mm solid; font-size: 1em; line-height: 1.3; font-weight: 600; letter-spacing: 0.02em; break-after: avoid; }
table { width: 100%; border-collapse: collapse; font-size: 0.92em; line-height: 1.34; }
thead { display: table-header-group; }
thead tr { break-after: avoid; }
tr, li { break-inside: avoid; }
th, td { padding: 0.28em 0.9em 0.28em 0; text-align: left; vertical-align: top; font-weight: 400; }
thead th { font-size: 0.88em; color: #595959; vertical-align: bottom; }
tbody tr { border-top: 0.2mm solid #bbb; }
tbody th { font-weight: 600; }
.more-figure { margin: 4mm 0; break-inside: avoid; }
.more-figure svg { display: block; width: 100%; height: auto; max-height: 90mm; }
th.figure, td.figure { width: 1%; padding-left: 2mm; padding-right: 4mm; text-align: right; white-space: nowrap; }
th:last-child, td:last-child, th.figure:last-child, td.figure:last-child { padding-right: 0; }
td.verdict-word { width: 1%; white-space: nowrap; font-weight: 600; }
tbody.check { break-inside: avoid; }
tbody.check.pass th, tbody.check.warning th { color: #1b1b1b; font-weight: 400; }
tbody.check.warning th { font-weight: 600; }
tbody.check.fail th { color: inherit; }
tbody.check td { color: #1b1b1b; }
tbody.check td.verdict-word { color: inherit; }
tbody.check .more { border-top: 0; }
tbody.check .more td { padding: 0 0 0.5em; }
.more div { padding-left: 0.8em; border-left: 0.8mm solid #8a2b14; }
.warning .more div { border-left: 0.8mm double #6b4700; }
.remedies { padding-left: 1.2em; }
.remark { font-size: 0.9em; color: #595959; }
.steps { columns: 2; column-gap: 7mm; list-style: none; counter-reset: step; padding-top: 0.8mm; font-size: 0.95em; line-height: 1.34; }
.steps label { display: grid; grid-template-columns: auto 1.5em 1fr; gap: 0 0.4em; padding: 0.28em 0; }
.steps label::after { order: 1; counter-increment: step; content: counter(step) "."; text-align: right; font-weight: 600; }
.steps span { order: 2; }
.steps input { appearance: none; -webkit-appearance: none; width: 1.05em; height: 1.05em; margin: 0.12em 0 0; border: 0.3mm solid #1b1b1b; background: none; font: inherit; }
.steps input:checked { border-width: 0.4em; }
.numbers { font-size: 0.76em; line-height: 1.26; }
.numbers td, .numbers th { padding-top: 0.12em; padding-bottom: 0.12em; }
.numbers th:first-child { width: 15%; } .numbers th:last-child { width: 42%; }
.long { columns: 2; column-gap: 7mm; }
.files { columns: 2; column-gap: 7mm; padding-top: 0.6mm; font-size: 0.85em; line-height: 1.34; }
.files div { display: grid; grid-template-columns: minmax(7.6em, auto) 1fr; gap: 0 0.9em; padding: 0.18em 0; break-inside: avoid; }
.files dt { font-weight: 600; }
.cautions { padding: 1.8mm 3.5mm 2.2mm; border: 0.7mm solid; break-inside: avoid; box-decoration-break: clone; -webkit-box-decoration-break: clone; }
.cautions h2 { border: 0; padding: 0; font-size: 1.1em; }
.cautions ul { columns: 2; column-gap: 7mm; padding-left: 1.1em; font-size: 0.88em; line-height: 1.34; }
.cautions li { padding: 0.12em 0; }
.standing { margin-top: 0.4em; padding-top: 0.4em; border-top: 0.2mm solid; font-size: 0.88em; line-height: 1.34; }
footer { margin-top: 2mm; font-size: 0.78em; color: #595959; }
@media (max-width: 46rem) {
  body { margin: 0; padding: 1rem; }
  header, .plan { grid-template-columns: 1fr; gap: 0.8rem; }
  .steps, .cautions ul, .files, .long { columns: 1; }
  .wide { overflow-x: auto; }
}
@media print {
  .plan svg { max-height: 76mm; }
  html { background: none; }
  body { margin: 0; padding: 0; max-width: none; font-size: 8.1pt; line-height: 1.3; }
}
`;
