/** A plain array of the same numbers (a loop: `Array.from` walks the iterator). */
export function plainArray(x: ArrayLike<number>, length = x.length): number[] {
  const out = new Array<number>(length);
  for (let i = 0; i < length; i++) out[i] = x[i]!;
  return out;
}
