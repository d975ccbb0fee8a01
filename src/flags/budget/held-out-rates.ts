import type { HeldOutRate } from "./false-flag-budget.js";

/**
 * What the thresholds that ship gave in invented nurseries on which nothing was tuned, written by
 * the bench `early` and not by hand.
 */
export const heldOutRates: readonly HeldOutRate[] = [
  {
    per100Weeks: 0.5,
    worlds: 9,
    rate: 0.52,
    inCare: 0.45,
    lowest: {
      world: "plain",
      rate: 0.11,
    },
    highest: {
      world: "much gut fill",
      rate: 0.96,
    },
  },
  {
    per100Weeks: 1,
    worlds: 9,
    rate: 0.95,
    inCare: 0.83,
    lowest: {
      world: "plain",
      rate: 0.37,
    },
    highest: {
      world: "much gut fill",
      rate: 1.5,
    },
  },
  {
    per100Weeks: 2,
    worlds: 9,
    rate: 2,
    inCare: 1.7,
    lowest: {
      world: "plain",
      rate: 0.71,
    },
    highest: {
      world: "much gut fill",
      rate: 2.9,
    },
  },
  {
    per100Weeks: 5,
    worlds: 9,
    rate: 4.6,
    inCare: 4.1,
    lowest: {
      world: "plain",
      rate: 2.5,
    },
    highest: {
      world: "much gut fill",
      rate: 6.2,
    },
  },
];
