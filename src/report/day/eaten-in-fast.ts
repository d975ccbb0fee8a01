import { say } from "../section/say.js";

/**
 * Why little of an order was eaten, where the fast after weaning says it: less than half of what
 * was ordered. A few words for a narrow column, or a sentence; nothing otherwise, and never a
 * word on whether that is well.
 */
export function eatenInFast(
  phase: string | null,
  { most, planned }: { readonly most: number; readonly planned: number },
  how: "in short" | "sentence",
): string[] {
  if (phase !== "post-weaning fast" || most >= planned / 2) return [];
  return [say(how === "in short" ? "day-in-fast" : "day-eaten-in-fast")];
}
