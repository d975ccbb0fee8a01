/**
 * Ends of an axis that hold all values with a little room, no further than the
 * marks around them; the step between marks is 1, 2 or 5 times a power of ten. A
 * single value gets room to either side, since an axis with one mark would say
 * nothing of the size.
 *
 * @example niceDomain([0, 1002], 4) // { domain: [0, 1052], step: 500 }
 */
export function niceDomain(
  values: readonly number[],
  ticks: number,
): { readonly domain: readonly [number, number]; readonly step: number } {
  const finite = values.filter(Number.isFinite);
  if (finite.length === 0) return { domain: [0, 1], step: 1 };
  let low = finite.reduce((a, b) => Math.min(a, b));
  let high = finite.reduce((a, b) => Math.max(a, b));
  if (low === high) {
    const room = Math.max(1, Math.abs(low) / 20);
    [low, high] = [low - room, high + room];
  }
  const raw = (high - low) / ticks;
  const power = 10 ** Math.floor(Math.log10(raw));
  const step = power * ([1, 2, 5].find((m) => m * power >= raw * 0.999) ?? 10);
  const room = (high - low) / 20;
  const down = Math.max(Math.floor(low / step) * step, low - room);
  const up = Math.min(Math.ceil(high / step) * step, high + room);
  return { domain: [Number(down.toPrecision(12)), Number(up.toPrecision(4))], step };
}
