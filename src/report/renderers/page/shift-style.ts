import { boardStyle } from "./board-style.js";

/** The look of the change of shift: a band an animal; grams and times large enough to read at arm's length. */
export const shiftStyle = `${boardStyle}
.shift-page { font-size: .9375rem; line-height: 1.38; } .shift-page p { margin: 0 0 2px; max-width: none; }
.shift-page h1 { font: 600 1.5625rem/1.24 Inter, system-ui, sans-serif; letter-spacing: -.014em; margin: 0 0 10px; max-width: 42em; text-wrap: balance; }
.band { display: grid; grid-template-columns: 8.6rem 300px minmax(0, 1fr) minmax(0, 1.3fr); column-gap: 18px; padding: 9px 0 8px; border-top: 1px solid var(--rule); align-items: start; }
.band.head { border: 0; padding: 0 0 2px; font-size: .8125rem; color: var(--ink2); } .band.danger { background: var(--alarm-pale); margin: 0 -10px; padding-left: 10px; padding-right: 10px; border-top: 2px solid var(--alarm); }
.band > .top { grid-column: 1 / -1; } .band .grave { flex-basis: 100%; order: 1; } .band .top { display: flex; flex-wrap: wrap; align-items: baseline; gap: 0 14px; margin-bottom: 3px; } .grave { margin: 2px 0 6px; padding-left: 1.1rem; max-width: none; font-weight: 600; color: var(--alarm); }
.band h2 { font-size: 1.125rem; font-weight: 600; color: var(--ink); margin: 0; line-height: 1.3; overflow-wrap: anywhere; } .band .word { font-size: .8125rem; font-weight: 600; color: var(--ink2); margin: 0; }
.band.danger .word, .band.second-look .word { color: var(--alarm); } .band.measure-first .word { color: var(--plan-ink); }
.band .time { font-size: 1.4375rem; line-height: 1.15; font-weight: 600; font-variant-numeric: tabular-nums; } .band .time.stop { color: var(--alarm); } .band .untimed { font-weight: 600; color: var(--plan-ink); line-height: 1.25; } .band .amount { font-weight: 600; } .shift-page .sub { color: var(--ink2); font-size: .8125rem; }
.band .changed, .band .watch { font-size: .875rem; } .band .act b { font-weight: 600; } .band.danger .watch, .band.second-look .watch .act, .band.measure-first .watch .act { font-weight: 600; } .band.nothing-raised .watch, .band.not-judged .watch { color: var(--ink2); }
.band .below { grid-column: 1 / -1; font-size: .8125rem; } .said { margin-top: 4px; } .said .what { color: var(--ink2); } .said ul { margin: 0; padding-left: 1.1rem; max-width: none; } .said li { margin: 1px 0; }
.band details { border: 0; padding: 3px 0 0; } .band details summary { font-weight: 400; font-size: .8125rem; color: var(--water-ink); }
svg.shift-rule { display: block; overflow: visible; max-width: 100%; height: auto; } svg.shift-rule text { font-size: 11px; fill: var(--ink2); } svg.shift-rule .t-alarm { fill: var(--alarm); } svg.shift-rule .t-plan { fill: var(--plan-ink); } svg.shift-rule .q { fill: var(--ink); font-weight: 600; }
svg.shift-rule .waits { stroke-dasharray: 2 2; opacity: .75; }
.l-ink.f-paper { fill: var(--paper); }
.signed { display: flex; gap: 2rem; margin: 2.4rem 0 0 !important; } .signed span { flex: 0 1 18rem; border-top: 1px solid var(--rule); padding-top: 3px; font-size: .8125rem; color: var(--ink2); }
@media screen and (max-width: 66rem) {
  .band.head { display: none; } .band { grid-template-columns: minmax(0, 1fr); row-gap: 8px; } .band .next, .band .rule, .band .changed, .band .watch, .band .below { grid-column: 1 / -1; }
  .band .changed::before, .band .watch::before { content: attr(data-name); display: block; font-size: .75rem; color: var(--ink2); }
}
@media screen and (max-width: 40rem) { .shift-page h1 { font-size: 1.3125rem; } svg.shift-rule { width: 100%; } }
@media print {
  .shift-page { font-size: 8.5pt; line-height: 1.25; } .shift-page h1 { font-size: 13pt; margin-bottom: 4pt; } .band { grid-template-columns: 84px 190px minmax(0, 1fr) minmax(0, 1.3fr); column-gap: 9px; padding: 4px 0 3px; break-inside: avoid; } .band.danger { margin: 0; padding-left: 0; padding-right: 0; }
  .band.head { font-size: 7pt; } .band h2 { font-size: 9pt; } .band .word, .shift-page .sub, .band .below { font-size: 7pt; } .band .time { font-size: 14pt; } .band .changed, .band .watch { font-size: 8pt; } svg.shift-rule { width: 190px; } svg.shift-rule text { font-size: 14px; } .signed { margin-top: 1.2rem !important; }
}
`;
