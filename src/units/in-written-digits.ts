/**
 * A difference of numbers as they are written, with one to three decimals: 36.5 - 36.3 is a
 * little more than 0.2 in the computer, and no more than 0.2 on a thermometer.
 *
 * @example inWrittenDigits(36.5 - 36.3) // 0.2
 */
export const inWrittenDigits = (difference: number): number => Number(difference.toFixed(6));
