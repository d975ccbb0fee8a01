import type { NotCompared } from "../../rates/planned-and-eaten.js";

/** What is said where eaten is not set beside ordered. */
export const notComparedCodes = {
  "no plan": "hand-over-no-plan",
  "part of the time": "hand-over-plan-part",
  "not comparable": "hand-over-plan-unknown",
} as const satisfies Readonly<Record<NotCompared, string>>;
