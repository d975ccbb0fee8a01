import { tokens } from "../../../charts/theme.js";

/**
 * The one style of every page: readable at arm's length, light and dark by the
 * reader's setting, and on paper (A4 and Letter) without the parts that only
 * make sense on a screen. Contrast is tested against WCAG 2.2 AA in both.
 */
export const pageStyle = `
:root { color-scheme: light dark; ${tokens("light")}
  --soft: var(--ink2); --line: var(--hair); --wash: var(--panel); --accent: var(--water-ink);
  --caution: var(--plan-ink); --caution-wash: var(--plan-pale); --problem: var(--alarm); }
@media (prefers-color-scheme: dark) { :root { ${tokens("dark")} } }
* { box-sizing: border-box; }
html { font-size: 100%; -webkit-text-size-adjust: 100%; }
body { margin: 0; background: var(--paper); color: var(--ink); overflow-wrap: break-word;
  font: 1rem/1.55 Inter, system-ui, -apple-system, "Segoe UI", "Noto Sans", Arial, sans-serif; }
main, header.top, footer.end { max-width: 74rem; margin: 0 auto; padding: 0 1.25rem; }
header.top { padding-top: 1.5rem; }
footer.end { color: var(--ink2); font-size: .875rem; padding-bottom: 3rem; border-top: 1px solid var(--hair);
  margin-top: 2.5rem; padding-top: .75rem; }
h1, h2, h3, h4 { line-height: 1.25; margin: 2rem 0 .6rem; text-wrap: balance; }
h1 { font-size: 1.9rem; margin-top: .5rem; } h2 { font-size: 1.4rem; } h3 { font-size: 1.15rem; } h4 { font-size: 1rem; }
p, ul, ol { max-width: 46rem; }
a { color: var(--water-ink); }
a:focus-visible, button:focus-visible, summary:focus-visible, [tabindex]:focus-visible { outline: 3px solid var(--water-ink); outline-offset: 2px; }
.skip { position: absolute; left: -999rem; } .skip:focus { position: static; }
code, pre, kbd { font-family: ui-monospace, "Cascadia Mono", "DejaVu Sans Mono", Menlo, monospace; font-size: .875rem; }
pre { background: var(--panel); border: 1px solid var(--hair); border-radius: 6px; padding: .75rem 1rem; overflow-x: auto;
  line-height: 1.45; }
:not(pre) > code { background: var(--panel); padding: .1em .3em; border-radius: 4px; overflow-wrap: anywhere; }
blockquote { margin: 1rem 0; padding: .25rem 1rem; border-left: 4px solid var(--hair); color: var(--ink2); }
.caution, .problem { margin: 1rem 0; padding: .6rem 1rem; border-left: 5px solid var(--plan-ink); background: var(--plan-pale);
  max-width: 46rem; border-radius: 0 6px 6px 0; }
.problem { border-left-color: var(--alarm); } .caution > :first-child { margin-top: 0; } .caution > :last-child { margin-bottom: 0; }
.scroll { overflow-x: auto; max-width: 100%; background:
    linear-gradient(to right, var(--paper) 30%, transparent) left / 3rem 100%,
    linear-gradient(to left, var(--paper) 30%, transparent) right / 3rem 100%,
    linear-gradient(to right, var(--hair), transparent) left / .75rem 100%,
    linear-gradient(to left, var(--hair), transparent) right / .75rem 100%;
  background-repeat: no-repeat; background-attachment: local, local, scroll, scroll; }
table { border-collapse: collapse; font-size: .875rem; line-height: 1.4; margin: .75rem 0; font-variant-numeric: tabular-nums; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
caption { text-align: left; color: var(--ink2); padding-bottom: .4rem; font-size: .9rem; max-width: min(46rem, 100vw - 2.5rem); }
th, td { padding: .3rem .6rem; text-align: left; vertical-align: top; border-bottom: 1px solid var(--hair); }
thead th { border-bottom: 2px solid var(--ink); vertical-align: bottom; }
td.number, th.number { text-align: right; } tbody .short, .together { white-space: nowrap; }
tbody .long { overflow-wrap: anywhere; min-width: 10rem; } tbody th.long { max-width: 17rem; }
ol.reasons { font-size: .8125rem; color: var(--ink2); margin-top: 0; } sup { font-size: .7em; line-height: 0; }
tbody th { font-weight: 600; }
figure { margin: 1.25rem 0; }
figure .picture { width: fit-content; max-width: 100%; } figure .picture.narrow { display: none; }
figure svg { display: block; max-width: 100%; height: auto; overflow: visible; }
figure .reading { margin: 0 0 .3rem; padding: .3rem .6rem; background: var(--panel); font-size: .875rem; max-width: 52rem; min-height: 2.9em;
  font-variant-numeric: tabular-nums; } figure .asked { stroke: none; } figure .asked.shown { stroke: var(--ink); stroke-opacity: .7; }
figure .drawn { fill: var(--water-line); fill-opacity: .25; } figure .picture[tabindex] { touch-action: pan-y; user-select: none; -webkit-user-select: none; }
button.whole { font: inherit; font-size: .875rem; min-height: 2rem; padding: .2rem .8rem; margin: 0 0 .3rem; color: var(--water-ink); background: var(--paper); border: 1px solid var(--water-ink); border-radius: 4px; }
svg a { pointer-events: auto; } svg a:hover text, svg a:focus text { text-decoration: underline; } svg a:focus-visible { outline: 2px solid var(--water-ink); outline-offset: 2px; }
figcaption { color: var(--ink2); font-size: .9rem; max-width: 46rem; margin-top: .4rem; }
details summary { cursor: pointer; } details.code { margin: .6rem 0; } details.code > summary { color: var(--ink2); font-size: .875rem; }
dl { display: grid; grid-template-columns: max-content 1fr; gap: .3rem 1rem; } dt { font-weight: 600; } dd { margin: 0; }
p.under { color: var(--ink2); margin-top: 0; }
details.beside ul { columns: 4 12rem; column-gap: 2rem; padding-left: 1.25rem; max-width: none; } details.beside li { break-inside: avoid; }
nav.contents ol { columns: 2; column-gap: 2rem; padding-left: 1.5rem; }
@media (max-width: 40rem) {
  table.cards, .cards caption, .cards tbody, .cards tr, .cards th[scope="row"], .cards td { display: block; width: auto; max-width: none; text-align: left; white-space: normal; } .cards thead { position: absolute; left: -999rem; } .cards td, .cards th[scope="row"] { border: 0; padding: 1px 0; } .cards tr { border-bottom: 1px solid var(--hair); padding: 8px 0; } .cards td[data-name]::before { content: attr(data-name) ": "; color: var(--ink2); font-size: .8125rem; }
  nav.contents ol { columns: 1; } h1 { font-size: 1.5rem; } dl { grid-template-columns: 1fr; }
  figure .picture.wide { display: none; } figure .picture.narrow { display: block; } figure .reading { position: sticky; top: 0; }
  tbody th.long { max-width: 10rem; min-width: 8rem; }
}
@media print {
  caption { max-width: 46rem; }
  @page { margin: 16mm 14mm; }
  :root { color-scheme: light; ${tokens("light")} --paper: #fff; }
  body { font-size: 10pt; } main, header.top, footer.end { max-width: none; padding: 0; }
  details.code, nav.contents, .skip, .screen-only { display: none; } tbody .short { white-space: normal; }
  table.many, table.many caption { font-size: 6.5pt; } table.many th, table.many td { padding: 1px 2px; white-space: normal; } table.dense, table.dense caption { font-size: 5.5pt; } table.breaks th, table.breaks td { overflow-wrap: anywhere; } table.many .together { white-space: normal; }
  tbody .long, tbody th.long { min-width: 0; }
  figure, tr, .caution { break-inside: avoid; } h1, h2, h3, h4 { break-after: avoid; } thead { display: table-header-group; }
  caption, thead, thead tr, tbody tr:first-child { break-after: avoid; }
  .scroll { overflow: visible; background: none; } figure .picture.wide { display: block; } figure .picture.narrow { display: none; }
  table { font-size: 7.5pt; }
  th, td { padding: .15rem .3rem; } a { color: inherit; }
}
`;
