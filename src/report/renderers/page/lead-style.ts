/** The first screen: where line, headline, picture beside questions, folds below. */
export const leadStyle = `
.where { display: flex; flex-wrap: wrap; gap: 2px 18px; font-size: .8125rem; color: var(--ink2); padding-top: 20px; margin: 0 0 12px; max-width: none; } .where b { color: var(--ink); font-weight: 600; } .where .cut { display: none; }
.first-line { font-weight: 600; color: var(--alarm); max-width: none; }
.headline { font: 600 1.5625rem/1.24 Inter, system-ui, sans-serif; letter-spacing: -.014em; margin: 0 0 8px; max-width: 42em; text-wrap: balance; }
.headline + .under { color: var(--ink2); font-size: 1rem; max-width: 46em; margin: 0 0 12px; }
.also { max-width: 46em; margin: 0 0 12px; padding: 8px 14px 8px 30px; border-left: 5px solid var(--alarm); background: var(--alarm-pale); font-weight: 600; } .also li { margin: 2px 0; }
.first-screen { display: grid; grid-template-columns: max-content minmax(14rem, 1fr); column-gap: 1.5rem; align-items: start; } .first-screen > * { grid-column: 1 / -1; }
.first-screen > figure { grid-column: 1; margin: 0; max-width: 46rem; } .first-screen > .questions { grid-column: 2; }
.questions { display: grid; grid-template-columns: repeat(auto-fit, minmax(17rem, 1fr)); column-gap: 2rem; } .first-screen > .questions { display: block; }
.question { border-top: 1px solid var(--hair); padding: 8px 0 6px; } .question:first-child { border-top: 1.5px solid var(--ink); }
.question h2 { font-size: .9375rem; margin: 0 0 2px; } .question p { margin: 0 0 3px; font-size: .9375rem; line-height: 1.4; } .question .strength { font-size: .8125rem; color: var(--ink2); }
.strength span { color: var(--ink); letter-spacing: .1em; }
details.fold { border-top: 1px solid var(--hair); padding: 7px 0; } details.fold summary { font-weight: 600; font-size: .9375rem; } details.fold summary span { font-weight: 400; color: var(--ink2); }
@media (max-width: 60rem) { .first-screen { display: block; } .headline { font-size: 1.3125rem; } }
@media print {
  @page { margin: 12mm 14mm; }
  .first-screen { display: grid; grid-template-columns: 122mm 1fr; column-gap: 5mm; } .first-screen > figure { max-width: none; break-before: avoid; } .first-screen > figure svg { width: 100%; height: auto; } .first-screen figcaption { font-size: 7.5pt; }
  .question .strength { font-size: 7.5pt; } .first-screen ~ * { margin-top: 0; } footer.end { font-size: 7.5pt; margin-top: 6pt; padding-top: 4pt; }
  .also, .headline + .under { font-size: 9pt; line-height: 1.3; margin-bottom: 6pt; } .also { padding-top: 4pt; padding-bottom: 4pt; } .first-screen .caution { font-size: 8.5pt; margin: 4pt 0; padding: 3pt 10pt; } .first-screen > figure { margin-bottom: 0; }
  details.fold { display: none; } .headline { font-size: 15pt; } .where { padding-top: 0; } .question p, .question h2 { font-size: 8.5pt; } }
`;
