import { type Measured, measured, normalInterval } from "../../core/measured.js";
import type { MissingGrams } from "../../flags/missing-grams.js";
import type { Spell } from "./spell.js";
import { ageTrend } from "./spells-around.js";

/**
 * Grams missing over the window: against the contemporaries; where fewer than three
 * serve, against what its own earlier gain would have brought.
 *
 * @example missingMass(missing, now, before).value // 440
 */
export function missingMass(missing: MissingGrams, now: Spell, before: Spell | null): Measured {
  if (missing.missing.value !== null) return missing.missing;
  const { gainGPerD: gain, gainSeGPerD, massG, days } = now;
  if (before?.gainPct == null || gain === null || massG === null) return missing.missing;
  const perPct = (massG * days) / 100;
  const short = (1 - ageTrend) * before.gainPct * perPct - gain * days;
  const se = Math.hypot((before.gainSePct ?? 0) * perPct, (gainSeGPerD ?? 0) * days);
  return measured(short, "g", {
    se,
    interval: normalInterval(short, se),
  });
}
