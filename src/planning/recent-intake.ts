import { type Measured, measured, notDefined } from "../core/measured.js";
import { notice } from "../core/notice.js";
import type { IntakeDay } from "../rates/intake-by-day.js";

/** Mean eaten over the days whose amount is known, g/d. */
export function meanEaten(days: readonly IntakeDay[]): Measured {
  const known = days.filter((d) => d.eatenG.value !== null);
  if (known.length === 0) {
    return notDefined("g/d", notice("ration-recent-unknown", "caution", { days: days.length }));
  }
  const mean = known.reduce((sum, d) => sum + d.eatenG.value!, 0) / known.length;
  return measured(mean, "g/d", { n: known.length });
}

/** Mean share of the energy from solids, %; null when nothing is known. */
export function recentSolids(days: readonly IntakeDay[]): number | null {
  const shares = days.flatMap((d) => {
    const s = d.solidsEnergyPct;
    return s === null || s.high === null ? [] : [(s.low + s.high) / 2];
  });
  return shares.length === 0 ? null : shares.reduce((a, b) => a + b, 0) / shares.length;
}

/** Mean offered a day, g/d. */
export function meanOffered(days: readonly IntakeDay[]): Measured {
  if (days.length === 0)
    return notDefined("g/d", notice("ration-recent-unknown", "caution", { days: 0 }));
  const mean = days.reduce((sum, d) => sum + d.offeredG, 0) / days.length;
  return measured(mean, "g/d", { n: days.length });
}
