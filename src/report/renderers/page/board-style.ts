/**
 * The look of the day's board: a line an animal on a wide screen and on paper,
 * a card an animal below. Colours are the roles of the page's style.
 */
export const boardStyle = `
.board-page { font-size: .9375rem; line-height: 1.4; overflow-wrap: anywhere; } .board-page p { margin: 0 0 2px; max-width: none; }
.where { display: flex; flex-wrap: wrap; gap: 2px 18px; font-size: .8125rem; color: var(--ink2); padding-top: 20px; margin: 0 0 12px !important; } .where .cut { display: none; }
.where b { color: var(--ink); font-weight: 600; }
.first-line { font-weight: 600; color: var(--alarm); }
.board-page h1 { font: 600 1.5625rem/1.24 Inter, system-ui, sans-serif; letter-spacing: -.014em; margin: 0 0 10px; max-width: 42em; text-wrap: balance; }
.board-page h2 { font-size: .8125rem; font-weight: 400; color: var(--ink2); margin: 8px 0 0; }
.due ol { list-style: none; position: relative; margin: 0 0 8px; padding: 0; max-width: none; height: calc(26px + 42px * var(--rows)); }
.due .ticks { position: absolute; left: 0; right: 0; top: 6px; height: 10px; border-top: 1.5px solid var(--ink); }
.due .ticks i { position: absolute; left: var(--x); height: 6px; border-left: 1px solid var(--rule); }
.due .d { position: absolute; left: var(--x); top: 6px; border-left: 1.5px solid var(--ink); padding: calc(14px + 42px * var(--row)) 0 0 7px; font-size: .8125rem; line-height: 1.35; max-width: max(17em, var(--room)); }
.due .d.end { left: auto; right: calc(100% - var(--x)); border-left: 0; border-right: 1.5px solid var(--ink); padding-left: 0; padding-right: 7px; text-align: right; max-width: 24em; }
.due .d span { display: block; position: relative; z-index: 1; background: var(--paper); } .due .what { color: var(--ink2); overflow: hidden; text-overflow: ellipsis; white-space: nowrap; }
svg.level { display: inline-block; vertical-align: -3px; }
svg.mark { display: block; overflow: visible; } svg.ticks { display: block; overflow: visible; } svg.ticks text { font-size: 11px; fill: var(--ink2); }
.f-ink { fill: var(--ink); } .f-soft { fill: var(--ink); opacity: .7; } .f-paper { fill: var(--paper); } .f-alarm { fill: var(--alarm); } .f-plan { fill: var(--plan); } .f-water { fill: var(--water1); } .f-water2 { fill: var(--water2); }
.edge { stroke: var(--water-line); stroke-width: .7; } .l-ink { stroke: var(--ink); fill: none; } .l-alarm { stroke: var(--alarm); fill: none; } .l-plan { stroke: var(--plan); fill: none; } .l-plan.f-paper { fill: var(--paper); }
.l-water { stroke: var(--water-line); fill: none; } .l-rule { stroke: var(--rule); fill: none; } .l-hair { stroke: var(--hair); fill: none; } .l-on { stroke: var(--paper); fill: none; }
table.board { display: block; width: 100%; font-size: .8125rem; line-height: 1.36; margin: 0; } .board thead, .board tbody { display: block; }
.board tr.head, .board tr.animal { display: grid; grid-template-columns: 8.4rem minmax(0, 1fr) 170px 150px 116px 7rem; column-gap: 16px; align-items: start; }
.board th, .board td { padding: 0; border: 0; text-align: left; font-weight: 400; min-width: 0; }
.board tr.head th { font-size: .75rem; color: var(--ink2); align-self: end; padding-bottom: 2px; }
.board .k { display: block; color: var(--ink3); font-size: .71875rem; line-height: 1.3; } .swatch { display: inline-block; width: 12px; height: 8px; margin-right: 4px; }
.swatch.water { background: var(--water1); border: .7px solid var(--water-line); } .swatch.plan { width: 7px; height: 11px; border: 1.6px solid var(--plan); border-left: 0; vertical-align: -2px; }
.board tr.group { display: block; } .board tr.group th { display: block; font-weight: 600; font-size: .875rem; padding: 11px 0 3px; border-bottom: 1.5px solid var(--rule); color: var(--ink2); } .board tr.group span { font-weight: 400; }
.board .danger tr.group th, .board .second-look tr.group th { color: var(--alarm); border-color: var(--alarm); } .board .measure-first tr.group th { color: var(--plan-ink); border-color: var(--plan); }
.board tr.animal { padding: 7px 0 6px; border-bottom: 1px solid var(--hair); } .board tbody tr.animal:last-child { border-bottom: 0; }
.board .danger tr.animal { background: var(--alarm-pale); margin: 0 -10px; padding-left: 10px; padding-right: 10px; } .board .danger .sub, .board .danger .id { color: var(--ink2); }
.board th.c-n a, .board th.c-n b { font-weight: 600; font-size: 1rem; color: var(--ink); text-decoration-color: var(--rule); }
.id { color: var(--ink3); font-size: .75rem; white-space: nowrap; } .id.long { white-space: normal; } .board .sub { display: block; color: var(--ink3); font-size: .75rem; line-height: 1.35; }
.board .v { display: block; font-weight: 600; } .board .c-s .v { font-weight: 400; } .board .c-s svg.mark { margin: 11px 0 7px; }
.board .c-w p { font-size: .875rem; line-height: 1.36; } .board .next b { font-weight: 600; } .board .nothing-raised .c-w p, .board .not-judged .c-w p { font-size: .8125rem; color: var(--ink2); }
.decide { border: 1px solid var(--rule); border-left: 5px solid var(--ink); padding: 9px 14px; font-size: .875rem; margin: 14px 0; background: var(--panel); }
.board-page details { border-top: 1px solid var(--hair); padding: 7px 0; } .board-page details summary { font-weight: 600; font-size: .875rem; } .many { columns: 4 12rem; max-width: none; font-size: .875rem; }
.board-page .note { color: var(--ink2); font-size: .8125rem; margin-top: 8px; } .board-page .pages { margin: 10px 0; }
.unseen { position: absolute; width: 1px; height: 1px; overflow: hidden; clip-path: inset(50%); white-space: nowrap; }
@media screen and (max-width: 66rem) {
  .board tr.head { display: none; } .board tr.animal { grid-template-columns: 172px 150px 118px minmax(0, 1fr); row-gap: 8px; padding: 12px 0; }
  .board th.c-n, .board .c-w { grid-column: 1 / -1; } .board .c-n .sub { display: inline; } .board .c-n .sub::before { content: ", "; }
  .board td[data-name]::before { content: attr(data-name); display: block; font-size: .75rem; color: var(--ink2); margin-bottom: 2px; }
  .due ol { height: auto; border-top: 1.5px solid var(--ink); padding-top: 6px; } .due .ticks { display: none; } .due .d, .due .d.end { position: static; border: 0; padding: 2px 0; text-align: left; max-width: none; font-size: .875rem; }
  .due .d span { display: inline; } .due .what { white-space: normal; }
}
@media screen and (max-width: 40rem) {
  .board tr.animal { grid-template-columns: 172px minmax(0, 1fr); column-gap: 16px; } .board-page h1 { font-size: 1.3125rem; }
  .board .c-w p, .board .nothing-raised .c-w p, .board .not-judged .c-w p { font-size: .9375rem; }
  .board .nothing-raised .c-e svg, .board .nothing-raised .c-s svg { display: none; }
}
@media print {
  @page { size: A4 portrait; margin: 7mm 11mm; }
  .board-page { font-size: 8pt; } .board-page h1 { font-size: 13pt; margin-bottom: 3pt; } .where { padding-top: 0; font-size: 8pt; margin-bottom: 4pt !important; } .board-page h2 { font-size: 7.5pt; margin: 2pt 0 0; }
  table.board { font-size: 7.5pt; line-height: 1.2; } .due ol { height: calc(12px + 25px * var(--rows)); margin-bottom: 0; } .due .d { font-size: 7pt; line-height: 1.15; padding-top: calc(10px + 25px * var(--row)); } footer.end p { margin: 0; } .board svg.level { width: 12px; height: 12px; }
  .board tr.head, .board tr.animal { grid-template-columns: 78px minmax(0, 1fr) 86px 80px 60px 92px; column-gap: 7px; } .board tr.head th { font-size: 6.5pt; } .board .k { font-size: 6.2pt; }
  .board .c-m svg { width: 86px; height: 20px; } .board .c-g svg.mark { width: 80px; height: 20px; } .board svg.ticks { width: 80px; height: 10px; } .board .c-e svg { width: 60px; height: 20px; } .board .c-s svg.mark { width: 70px; height: 11px; margin: 3px 0; }
  .board tr.group th { padding: 2px 0 0; font-size: 8pt; } .board tr.animal { padding: 3px 0; break-inside: avoid; } .board .danger tr.animal { margin: 0; padding-left: 0; padding-right: 0; }
  .board .c-w p, .board .nothing-raised .c-w p, .board .not-judged .c-w p { font-size: 7.5pt; line-height: 1.2; } .board .sub, .id { font-size: 6.6pt; } .board th.c-n a, .board th.c-n b { font-size: 9pt; text-decoration: none; }
  .board .c-w p, .board .c-n .sub, .board .c-s .sub { display: inline; } .board .c-n .sub:not(:last-child)::after, .board .c-s .sub:not(:last-child)::after { content: "; "; } .board .c-w p::after { content: " "; } .board .id { margin-right: .4em; } .board .c-n, .board .c-s { font-size: 6.6pt; line-height: 1.2; } .board .c-s .v { font-size: 7.5pt; } .board tr.animal { padding: 2px 0 !important; } .board-page h1 { max-width: none; text-wrap: wrap; line-height: 1.15; }
  .board .nothing-raised svg.mark, .board .not-judged svg.mark { height: 16px; } .board .nothing-raised .v, .board .nothing-raised .sub, .board .not-judged .v, .board .not-judged .sub { display: inline; } .board .nothing-raised .v::after, .board .not-judged .v::after { content: " "; }
  .board .nothing-raised .c-s svg.mark, .board .not-judged .c-s svg.mark { display: none; }
  .crowded .nothing-raised tr.animal, .crowded .not-judged tr.animal { align-items: baseline; } .crowded tr.animal.animal { padding: 1px 0 !important; } .board-page.crowded .board .c-w p { font-size: 6.6pt; line-height: 1.12; } .crowded .board .sub { font-size: 6.2pt; } .crowded .due .what { display: none; } .board-page.crowded .due ol { height: calc(12px + 14px * var(--rows)); } .board-page.crowded .due .d { padding-top: calc(8px + 14px * var(--row)); } .board-page.crowded h1 { font-size: 12pt; } .board-page.crowded tr.animal, .board-page.crowded tr.head { grid-template-columns: 78px minmax(0, 1fr) 78px 66px 66px 80px !important; column-gap: 6px; } .board-page.crowded .board .c-m svg { width: 78px; } .board-page.crowded .board .c-g svg.mark, .board-page.crowded .board svg.ticks { width: 66px; } .board-page.crowded .board .c-e svg { width: 62px; } .board-page.crowded .board .c-s svg.mark { width: 66px; } .crowded .board td .v, .crowded .board td .sub { display: inline; } .crowded .board td .v::after { content: " "; } .crowded .board .c-m .v, .crowded .board .c-g .v, .crowded .board .c-e .v { font-size: 7.5pt; } .crowded .board td.c-s { line-height: 1.1; } .crowded .nothing-raised svg.mark, .crowded .nothing-raised .c-n .sub, .crowded .nothing-raised .c-s .sub, .crowded .nothing-raised .c-m .sub, .crowded .nothing-raised .c-e .sub, .crowded .nothing-raised .c-g .sub { display: none !important; }
  .decide { margin: 5px 0; padding: 4px 8px; font-size: 7.5pt; } .board-page .note, footer.end { font-size: 6.6pt; margin-top: 3px; padding: 2px 0 0; }
}
`;
