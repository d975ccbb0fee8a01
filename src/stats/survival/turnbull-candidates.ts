import type { CensoredTime } from "./censored-time.js";

/** An interval (from, to] that can carry probability, or a point where `from` equals `to`. */
export interface Candidate {
  readonly from: number;
  readonly to: number;
}

/**
 * Intervals whose left end is the left end of a time, whose right end is that of
 * a time or of a truncation, with no other end between: only these can carry
 * probability at the maximum.
 *
 * Turnbull BW (1976) J R Stat Soc B 38:290-295; truncation: Frydman H (1994)
 * J R Stat Soc B 56:71-74.
 */
export function turnbullCandidates(times: readonly CensoredTime[]): Candidate[] {
  const ends: { at: number; open: number; left: boolean }[] = [];
  for (const t of times) {
    const by = t.by ?? Number.POSITIVE_INFINITY;
    ends.push({ at: t.after, open: t.after === by ? 0 : 1, left: true });
    ends.push({ at: by, open: 0, left: false });
    if (t.entered !== undefined) ends.push({ at: t.entered, open: 0, left: false });
  }
  ends.sort((a, b) => a.at - b.at || a.open - b.open || Number(b.left) - Number(a.left));
  const found: Candidate[] = [];
  for (let i = 0; i + 1 < ends.length; i++) {
    const a = ends[i]!;
    const b = ends[i + 1]!;
    if (a.left && !b.left) found.push({ from: a.at, to: b.at });
  }
  return found;
}

/** Whether the event of `t` can have happened in the candidate. */
export function canHold(c: Candidate, t: CensoredTime): boolean {
  const by = t.by ?? Number.POSITIVE_INFINITY;
  const afterStart = t.after === by ? c.from === t.after && c.to === by : liesAfter(c, t.after);
  return afterStart && c.to <= by;
}

/** Whether an event in the candidate could have shown itself in `t`: it lies after the entry. */
export function couldShow(c: Candidate, t: CensoredTime): boolean {
  return t.entered === undefined || liesAfter(c, t.entered);
}

function liesAfter(c: Candidate, moment: number): boolean {
  return c.from > moment || (c.from === moment && c.to > moment);
}
