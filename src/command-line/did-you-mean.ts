import { closestName } from "../records/closest-name.js";

/**
 * The question that a slip of the pen is answered with; null where nothing is near.
 *
 * @example didYouMean("slow-gainr", ["slow-gainer", "start-here"]) // "Is slow-gainer meant?"
 */
export function didYouMean(written: string, known: readonly string[]): string | null {
  const near = closestName(written.trim(), new Set(known));
  return near === null ? null : `Is ${near} meant?`;
}
