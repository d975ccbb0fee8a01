import type { Spread } from "../../seasons/spread.js";
import { formatNumber } from "../../units/format.js";

/** Mean ± standard deviation with n, or why there is none. */
export function spreadText(s: Spread, digits = 3): string {
  if (s.mean === null) return "none";
  const sd = s.sd === null ? "spread not known" : `± ${formatNumber(s.sd, digits)}`;
  return `${formatNumber(s.mean, digits)} ${sd} (n ${s.n}${s.missing > 0 ? ` of ${s.n + s.missing}` : ""})`;
}
