import type { Outcome } from "./study.js";

/**
 * Whether an outcome is a death.
 *
 * @example isDeath("euthanised") // true
 */
export function isDeath(outcome: Outcome | null): boolean {
  return outcome === "died" || outcome === "euthanised";
}
