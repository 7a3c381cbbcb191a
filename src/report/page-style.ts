/** A table whose rows stand one below the other, each a name and its cells with their headings before them. */
const asRows = (table: string): string =>
  [
    `${table}, ${table} tbody, ${table} caption { display: block; }`,
    `${table} thead { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); }`,
    `${table} tr { display: flex; flex-wrap: wrap; gap: 0 1.1rem; padding: .4rem 0; border-bottom: 1px solid var(--line); }`,
    `${table} tbody th { flex: 1 0 100%; font-weight: 600; padding: 0; border: 0; }`,
    `${table} td { padding: 0; border: 0; text-align: left; overflow-wrap: anywhere; }`,
    `${table} td:empty { display: none; }`,
    `${table} td::before { content: attr(data-head) " "; color: var(--quiet); }`,
  ].join('\n  ');

/**
 * The page's one style sheet, the same for every report: its digest stands in the page's security policy.
 * It is made for paper first; what a colour says, a word or a shape says too.
 */
export const PAGE_STYLE = `
:root {
  color-scheme: light dark;
  --paper: #fffefb; --ink: #1d2327; --quiet: #555e64; --line: #c9cdc8; --band: #dfe7e0; --accent: #1b5a6e; --warn: #9a4a00; --tint: #fbf1e3;
}
@media screen and (prefers-color-scheme: dark) {
  :root { --paper: #15191b; --ink: #e6e8e4; --quiet: #a9b1b4; --line: #3c4447; --band: #2b3a38; --accent: #7cc4d8; --warn: #f0a860; --tint: #2a2319; }
}
* { box-sizing: border-box; }
html { background: var(--paper); color: var(--ink); font: 1rem/1.5 system-ui, "Segoe UI", "DejaVu Sans", sans-serif; -webkit-text-size-adjust: 100%; }
body { margin: 0 auto; max-width: 64rem; padding: 2rem 1.25rem 3rem; }
h1, h2, h3 { line-height: 1.25; text-wrap: balance; overflow-wrap: anywhere; }
h1 { font-size: 1.7rem; margin: 0 0 1.25rem; font-weight: 650; }
h2 { font-size: 1.2rem; margin: 2.75rem 0 .75rem; padding-top: .6rem; border-top: 2px solid var(--ink); }
h3 { font-size: 1rem; margin: 1.75rem 0 .5rem; }
p, ul, dl, figure { margin: .75rem 0; }
p, li, dd { overflow-wrap: anywhere; }
a { color: var(--accent); }
.letterhead { display: flex; flex-wrap: wrap; gap: .75rem 2.5rem; align-items: flex-start; border-bottom: 1px solid var(--line); margin: 0 0 1.5rem; padding-bottom: 1rem; font-size: .9rem; }
.letterhead img { width: auto; height: auto; max-width: 14rem; max-height: 5rem; }
.letterhead p { margin: 0; }
.letterhead .line, .letterhead strong { display: block; }
.letterhead dl { margin: 0 0 0 auto; }
.letterhead dl div { display: grid; grid-template-columns: 7rem auto; gap: 0 .75rem; }
.letterhead dt { color: var(--quiet); }
.letterhead dd { margin: 0; }
.end { text-align: center; color: var(--quiet); font-size: .85rem; }
.kind { margin: 0 0 .35rem; color: var(--quiet); font-size: .9rem; }
.first { margin: 0 0 1.75rem; padding: 1rem 0 .25rem; border-top: 6px solid var(--ink); }
.first.fail { border-top-style: double; }
.first.inconclusive { border-top: 4px dashed var(--ink); }
h2.answer { font-size: clamp(1.45rem, 1rem + 1.9vw, 2.4rem); line-height: 1.2; font-weight: 500; margin: 0 0 .9rem; padding: 0; border: 0; }
h2.answer strong { font-weight: 750; }
h2.answer .sign { width: auto; margin-right: .15em; }
.first p { margin: .4rem 0; max-width: 46rem; }
.first .covers { color: var(--quiet); font-size: .9rem; margin-top: .9rem; }
figure.strip { margin: 1rem 0 .5rem; }
svg.large, svg.small { display: block; overflow: visible; }
.know { margin: 1rem 0 .4rem; font-size: .95rem; }
ul.caveats { list-style: none; margin: 0 0 1rem; padding: 0; }
ul.caveats li { border-left: 6px solid var(--warn); border-bottom: 1px solid var(--line); background: var(--tint); padding: .45rem .75rem .45rem .6rem; margin: 0; }
ul.caveats .sign { color: var(--warn); }
dl.four { display: grid; grid-template-columns: repeat(4, 1fr); gap: .75rem 1.5rem; margin: 1rem 0; }
dl.four > div { border-top: 1px solid var(--ink); padding-top: .35rem; }
dl.four dt { color: var(--quiet); font-size: .85rem; }
dl.four dd { margin: 0; font-size: .85rem; }
dl.four dd.said { font-size: 1.15rem; font-weight: 650; overflow-wrap: normal; }
ol.limits { list-style: none; margin: .5rem 0 1rem; padding: 0; }
ol.limits li { display: grid; grid-template-columns: 5.5rem minmax(0, 1.2fr) minmax(11.5rem, 1fr) minmax(0, 1.4fr); gap: 0 1rem; padding: .45rem 0; border-bottom: 1px solid var(--line); font-size: .9rem; line-height: 1.35; }
ol.limits .outcome { grid-row: 1 / span 2; }
ol.limits .name { grid-row: 1 / span 2; overflow-wrap: anywhere; }
ol.limits .value { grid-column: 3; font-weight: 600; }
ol.limits .agreed, ol.limits .margin { grid-column: 3; font-size: .85rem; }
ol.limits .margin, ol.limits .effect, ol.limits .scale { color: var(--quiet); }
ol.limits .bar { grid-column: 4; grid-row: 1 / span 3; }
ol.limits .scale { font-size: .8rem; }
ol.limits .note { grid-column: 2 / -1; margin: .3rem 0 0; }
ol.limits li.missed { border-left: 6px double var(--ink); padding-left: .6rem; }
summary { cursor: pointer; padding: .35rem 0; font-weight: 600; }
.swatch { display: inline-block; vertical-align: -.25em; border: 1px solid var(--line); }
.severity { white-space: nowrap; }
nav ul { columns: 2; padding: 0; margin: 0; list-style: none; font-size: .9rem; }
nav li { padding: .1rem 0; break-inside: avoid; }
dl.facts > div { display: grid; grid-template-columns: 9rem 1fr; gap: 0 1rem; padding: .3rem 0; border-bottom: 1px solid var(--line); }
dl.facts dt { color: var(--quiet); grid-row: 1 / span 40; }
dl.facts dd { margin: 0; grid-column: 2; }
.wide { overflow-x: auto; margin: 1rem 0; }
.narrow { margin: 1rem 0; }
.narrow th, .narrow td { overflow-wrap: anywhere; }
.narrow .number, .narrow thead th, .narrow td:last-child:not(.code) { overflow-wrap: break-word; }
a:focus-visible, summary:focus-visible { outline: 3px solid var(--accent); outline-offset: 2px; }
table { border-collapse: collapse; width: 100%; font-size: .875rem; line-height: 1.35; }
caption { text-align: left; font-weight: 600; padding: 0 0 .4rem; }
th, td { text-align: left; vertical-align: top; padding: .32rem .7rem .32rem 0; border-bottom: 1px solid var(--line); }
th:last-child, td:last-child { padding-right: 0; }
thead th { border-bottom: 1.5px solid var(--ink); font-weight: 600; vertical-align: bottom; }
tbody th { font-weight: 400; }
.number { text-align: right; font-variant-numeric: tabular-nums; }
td.number { white-space: nowrap; }
table.many td.number { white-space: normal; }
.keep { white-space: nowrap; }
td.code { font-family: ui-monospace, "DejaVu Sans Mono", monospace; font-size: .8em; overflow-wrap: anywhere; }
.outcome { white-space: nowrap; font-weight: 600; }
.sign { display: inline-block; width: .95em; }
figure { margin: 1.5rem 0; }
figcaption { font-size: .875rem; line-height: 1.4; }
figcaption .key { display: block; color: var(--quiet); }
.picture { max-width: 46rem; }
.picture strong { font-weight: 600; }
.picture svg { display: block; width: 100%; height: auto; color: var(--ink); font-family: system-ui, "Segoe UI", "DejaVu Sans", sans-serif; }
svg { color: var(--ink); font-family: system-ui, "Segoe UI", "DejaVu Sans", sans-serif; }
.picture svg text { white-space: pre; }
.picture .slim { display: none; }
.photos { display: grid; grid-template-columns: repeat(auto-fill, minmax(15rem, 1fr)); gap: 1rem; }
.photos figure { margin: 0; }
.photos img { display: block; width: 100%; height: auto; border: 1px solid var(--line); }
.photos figcaption { padding-top: .35rem; }
.formula { padding: .5rem 0; border-bottom: 1px solid var(--line); font-size: .875rem; }
.formula dt { font-weight: 600; }
.formula dd { margin: 0; }
.formula dd.math { font-family: ui-monospace, "DejaVu Sans Mono", monospace; font-size: .9em; padding-left: 1rem; }
.formula dd.source { color: var(--quiet); }
.signatures { display: grid; grid-template-columns: repeat(auto-fit, minmax(15rem, 1fr)); gap: 1rem 2rem; padding: 0; list-style: none; }
.signatures li { break-inside: avoid; padding-top: 3rem; }
.signatures .rule { display: block; border-top: 1px solid var(--ink); padding-top: .25rem; font-size: .875rem; }
.signatures .what { display: block; color: var(--quiet); }
footer { margin-top: 2.5rem; padding-top: .6rem; border-top: 1px solid var(--line); color: var(--quiet); font-size: .85rem; }
@media screen {
  details.fold:not([open]) + .folded { display: none; }
}
@media screen and (max-width: 46rem) {
  dl.four { grid-template-columns: 1fr 1fr; }
}
@media screen and (max-width: 60rem) {
  ${asRows('table.many')}
}
@media screen and (max-width: 40rem) {
  ${asRows('table.some')}
}
@media (max-width: 34rem) {
  ol.limits li { grid-template-columns: 1fr auto; }
  ol.limits .outcome { grid-column: 2; grid-row: 1; }
  ol.limits .name { grid-column: 1; grid-row: 1; font-weight: 600; }
  ol.limits .value, ol.limits .agreed, ol.limits .margin, ol.limits .bar, ol.limits .note { grid-column: 1 / -1; grid-row: auto; }
  body { padding: 1.25rem 1rem 2rem; }
  h1 { font-size: 1.4rem; }
  nav ul { columns: 1; }
  dl.four { grid-template-columns: 1fr; }
  .picture .full { display: none; }
  .picture .slim { display: block; }
  dl.facts > div { grid-template-columns: 1fr; }
  dl.facts dt { grid-row: auto; }
  dl.facts dd { grid-column: 1; }
}
@page {
  margin: 17mm 16mm 19mm;
  @top-left { font: 8.5pt system-ui, "DejaVu Sans", sans-serif; color: #444; }
  @top-right { font: 8.5pt system-ui, "DejaVu Sans", sans-serif; color: #444; }
  @bottom-right { content: "page " counter(page) " of " counter(pages); font: 8.5pt system-ui, "DejaVu Sans", sans-serif; color: #444; }
}
@media print {
  :root { --paper: #fff; --ink: #000; --quiet: #444; --line: #bbb; --band: #dedede; --accent: #1b4f60; --warn: #7a3b00; --tint: #fff; }
  html { font-size: 9.5pt; }
  body { max-width: none; padding: 0; }
  nav { display: none; }
  h2 { margin-top: 1.9rem; }
  h2, h3, caption, figcaption { break-after: avoid; }
  h2 + *, h3 + * { break-before: avoid; }
  main h2, main h3, .together { break-inside: avoid; }
  main h2::after, main h3::after { content: ""; display: block; height: 22mm; margin-bottom: -22mm; }
  p, li { orphans: 3; widows: 3; }
  p:has(+ ul) { break-after: avoid; }
  table, figure, .first, .signatures, dl.facts > div, .formula, tr { break-inside: avoid; }
  table.long { break-inside: auto; }
  thead { display: table-header-group; }
  details.fold { display: none; }
  ol.limits li { break-inside: avoid; }
  .wide { overflow: visible; }
  .picture svg { max-width: 158mm; }
  .formulas { columns: 2; column-gap: 8mm; }
  .formula { font-size: 8pt; margin: 0; overflow-wrap: anywhere; }
  .formula dd.math { padding-left: 3mm; }
  .signatures { grid-template-columns: 1fr 1fr; }
  .signatures li { padding-top: 2.4rem; }
  footer { break-before: avoid; break-inside: avoid; margin-top: 1.2rem; }
  .photos { grid-template-columns: 1fr 1fr; }
  .photos img { max-height: 75mm; width: auto; max-width: 100%; }
  a { color: inherit; text-decoration: none; }
}
`;
