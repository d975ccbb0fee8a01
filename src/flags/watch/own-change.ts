/**
 * What is looked for where one animal may gain less: shares of the expected gain that may be
 * missing, before anything is seen (from a fifth less, over none at all, to a fall), and the
 * mean gain below which it is not taken, so that a change stays visible.
 */
export const ownChange = {
  missing: [
    { share: 0.2, weight: 0.2 },
    { share: 0.5, weight: 0.4 },
    { share: 1, weight: 0.25 },
    { share: 2.5, weight: 0.1 },
    { share: 5, weight: 0.05 },
  ],
  leastSlope: 0.002,
} as const;
