/**
 * By what a median absolute deviation is multiplied to estimate the standard deviation of
 * a normal law: 1 / 0.6745, to four digits as textbooks give it.
 */
export const madToSd = 1.4826;

/** The median absolute deviation of a standard normal law, by which regressions divide. */
export const normalMad = 0.6745;
