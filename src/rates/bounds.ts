/**
 * An amount that may be known only within bounds. `value` is set when it is
 * known; `high` is `null` when nothing limits it above (a feed whose diet, and
 * so whose energy, is not known).
 */
export interface Bounds {
  readonly low: number;
  readonly high: number | null;
  readonly value: number | null;
}

export const nothing: Bounds = { low: 0, high: 0, value: 0 };

/** An amount known exactly. @example known(540) // { low: 540, high: 540, value: 540 } */
export function known(value: number): Bounds {
  return { low: value, high: value, value };
}

/** An amount between two limits; equal limits make it known. */
export function between(low: number, high: number | null): Bounds {
  return { low, high, value: low === high ? low : null };
}

/** Sum of amounts: unknown as soon as one is. */
export function sumBounds(parts: readonly Bounds[]): Bounds {
  let low = 0;
  let high: number | null = 0;
  for (const part of parts) {
    low += part.low;
    high = high === null || part.high === null ? null : high + part.high;
  }
  return between(low, high);
}

/** The amount times a factor that is not negative. */
export function scaleBounds(amount: Bounds, factor: number): Bounds {
  return between(amount.low * factor, amount.high === null ? null : amount.high * factor);
}

/** 100 part / (part + rest), between its limits; `null` when nothing is there to share. */
export function shareBounds(part: Bounds, rest: Bounds): Bounds | null {
  const share = (a: number, b: number) => (a + b > 0 ? 100 * (a / (a + b)) : null);
  if (part.value !== null && rest.value !== null) {
    const value = share(part.value, rest.value);
    return value === null ? null : known(value);
  }
  if (part.high === 0 && rest.high === 0) return null;
  // Whatever was eaten, it was all of one kind.
  if (rest.high === 0) return known(100);
  if (part.high === 0) return known(0);
  const low = rest.high === null ? 0 : (share(part.low, rest.high) ?? 0);
  const high = part.high === null ? 100 : (share(part.high, rest.low) ?? 100);
  return between(low, high);
}

/** The middle of an amount; null where nothing limits it above. @example middleOf(between(4, 6)) // 5 */
export function middleOf({ low, high }: Bounds): number | null {
  return high === null ? null : (low + high) / 2;
}

/**
 * The value, or the middle where the limits lie within `pct` % of each other;
 * `null` where they are further apart.
 *
 * @example nearlyKnown(between(980, 1000), 3) // 990
 */
export function nearlyKnown(amount: Bounds, pct: number): number | null {
  if (amount.value !== null) return amount.value;
  const { low, high } = amount;
  return high !== null && high > 0 && 100 * (high - low) <= pct * high ? (low + high) / 2 : null;
}
