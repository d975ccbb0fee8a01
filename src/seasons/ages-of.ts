import { UsageError } from "../core/usage-error.js";
import type { AgeWindow } from "./gain-window.js";

/**
 * A range of ages as people write it.
 *
 * @throws UsageError where it is none.
 * @example agesOf("21-63", "--ages") // { fromAgeD: 21, toAgeD: 63 }
 */
export function agesOf(text: string, where: string): AgeWindow {
  const m = /^\s*(\d+)\s*(?:-|–|to)\s*(\d+)\s*$/.exec(text);
  const [fromAgeD, toAgeD] = [Number(m?.[1]), Number(m?.[2])];
  if (m === null || !(toAgeD > fromAgeD)) {
    throw new UsageError({
      needed: "two ages in days, the younger first",
      came: `"${text}" was given`,
      where,
      todo: "Write for example 21-63.",
    });
  }
  return { fromAgeD, toAgeD };
}
