/** Milliseconds of 24 hours: a length of time, not a civil day (which has 23 or 25 hours twice a year). */
export const dayMs = 86_400_000;
