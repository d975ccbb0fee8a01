import type { Instant } from "../series/animal-series.js";
import { mayBePresent, type Sign } from "../series/signs/sign.js";
import { dayMs } from "../units/day-ms.js";

/**
 * When something first came up in the run of vomit and regurgitation that reaches into
 * the 24 h before an instant, each within 24 h of the next; null where nothing did. A
 * line in doubt counts.
 *
 * @example cameUpSince(series.signs, at) // 1746165600000
 */
export function cameUpSince(signs: readonly Sign[], at: Instant): Instant | null {
  let since: Instant | null = null;
  for (let i = signs.length - 1; i >= 0; i--) {
    const sign = signs[i]!;
    if (sign.at > at) continue;
    if (sign.at <= (since ?? at) - dayMs) break;
    if (cameUp(sign)) since = sign.at;
  }
  return since;
}

function cameUp(sign: Sign): boolean {
  if (sign.kind === "vomit" || sign.kind === "regurgitation") return mayBePresent(sign);
  return sign.findings.includes("vomit") || sign.findings.includes("regurgitation");
}
