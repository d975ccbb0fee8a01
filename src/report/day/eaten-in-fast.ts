import { say } from "../section/say.js";

/**
 * Why little of an order was eaten, where the fast after weaning says it: less than half of what
 * was ordered. Nothing otherwise, and never a word on whether that is well.
 */
export function eatenInFast(
  phase: string | null,
  { most, planned }: { readonly most: number; readonly planned: number },
): string[] {
  return phase === "post-weaning fast" && most < planned / 2 ? [say("day-eaten-in-fast")] : [];
}
