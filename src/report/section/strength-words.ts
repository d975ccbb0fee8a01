import type { RecordStrength } from "./section.js";

/** Filled squares of three: the same for the eye as the words beside them. */
export const strengthSquares: Readonly<Record<RecordStrength, number>> = {
  strong: 3,
  fair: 2,
  "not yet known": 0,
};

/** "■■□ records fair". @example strengthWords("fair") // "■■□ records fair" */
export function strengthWords(strength: RecordStrength): string {
  const filled = strengthSquares[strength];
  const words = strength === "not yet known" ? strength : `records ${strength}`;
  return `${"■".repeat(filled)}${"□".repeat(3 - filled)} ${words}`;
}
