/** Milliseconds of an hour. */
export const hourMs = 3_600_000;
