/** What the site adds to the style of every page: the list of pages beside the text, and the search. */
export const siteStyle = `
header.top { display: flex; flex-wrap: wrap; gap: .25rem 1.25rem; align-items: baseline; padding-bottom: .5rem; border-bottom: 1px solid var(--hair); }
header.top .home { font-weight: 600; color: var(--ink); text-decoration: none; font-size: 1.125rem; }
nav.pages { max-width: 74rem; margin: 2rem auto 0; padding: .75rem 1.25rem 0; border-top: 1px solid var(--hair); font-size: .9375rem; }
nav.pages h2 { font-size: .8125rem; margin: 1rem 0 .2rem; color: var(--ink2); } nav.pages ul { list-style: none; margin: 0; padding: 0; }
nav.pages li { padding: .2rem 0; } nav.pages [aria-current] { font-weight: 600; color: var(--ink); }
nav.on-page { font-size: .875rem; color: var(--ink2); } nav.on-page summary { font-weight: 600; } nav.on-page ul { columns: 3 14rem; padding-left: 1.1rem; max-width: none; }
pre:focus-visible { outline: 3px solid var(--water-ink); outline-offset: 2px; }
nav.step { display: flex; justify-content: space-between; gap: 1rem; margin-top: 2.5rem; font-size: .9375rem; }
.from-the-demo { border-left: 4px solid var(--water2); padding-left: 1rem; margin: 1.25rem 0; } .from-the-demo > .note { font-size: .8125rem; color: var(--ink2); margin: 0; }
.from-the-demo .question h3 { font-size: .9375rem; margin: 0 0 2px; }
.search label { font-weight: 600; display: block; } .search input { font: inherit; width: 100%; max-width: 34rem; padding: .5rem .7rem; color: var(--ink); background: var(--paper); border: 1px solid var(--rule); border-radius: 4px; }
.search input:focus-visible { outline: 3px solid var(--water-ink); outline-offset: 2px; } .search li { margin: .7rem 0; } .search li span { display: block; color: var(--ink2); font-size: .875rem; }
@media screen and (min-width: 62rem) {
  body { display: grid; grid-template-columns: minmax(13rem, 1fr) minmax(0, 58rem) minmax(0, 1fr); grid-template-rows: auto 1fr auto; }
  .skip { grid-row: 1; } header.top { grid-column: 1 / -1; grid-row: 1; max-width: none; width: 100%; }
  main { grid-column: 2; grid-row: 2; margin: 0; width: 100%; } footer.end { grid-column: 2; grid-row: 3; margin-left: 0; margin-right: 0; width: 100%; }
  nav.pages { grid-column: 1; grid-row: 2 / 4; margin: 0; border-top: 0; border-right: 1px solid var(--hair); } header.top .to-pages { display: none; }
}
@media (max-width: 40rem) { nav.on-page ul { columns: 1; } }
@media print { nav.pages, header.top, nav.step, nav.on-page { display: none; } }
`;
