import type { ObservationRow } from "../../records/study.js";
import { readSign, type SignSettings } from "./read-sign.js";
import type { Sign } from "./sign.js";

/**
 * Every observation of an animal with its meaning, in their order. Lines that are
 * written alike are read once.
 */
export function signsOf(
  rows: readonly ObservationRow[],
  settings: SignSettings,
  known: Map<string, Sign> = new Map(),
): readonly Sign[] {
  return rows.map((row) => {
    const key = `${row.kind}|${row.value}|${row.valueText}|${row.unit}|${row.notes}`;
    const before = known.get(key);
    if (before === undefined || before.question !== null) {
      const sign = readSign(row, settings);
      known.set(key, sign);
      return sign;
    }
    return { ...before, at: row.at, row };
  });
}
