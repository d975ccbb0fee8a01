/**
 * Whether two values of plain data say the same: numbers and text by `Object.is`, lists and
 * records by what they hold. A field that is `undefined` is one that is missing.
 *
 * @example sameContent({ a: [1, null] }, { a: [1, null], b: undefined }) // true
 */
export function sameContent(a: unknown, b: unknown): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const one = a as Fields;
  const other = b as Fields;
  for (const key in one) {
    const x = one[key];
    const y = other[key];
    // Asked once for every cell of a study: no call where a glance is enough.
    if ((x !== y || x === 0) && !sameContent(x, y)) return false;
  }
  for (const key in other) if (other[key] !== undefined && one[key] === undefined) return false;
  return true;
}

type Fields = Readonly<Record<string, unknown>>;
