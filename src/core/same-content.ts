/**
 * Whether two values of plain data say the same: numbers and text by `Object.is`, lists and
 * records by what they hold. A field that is `undefined` is one that is missing.
 *
 * @param before two records that were found to say the same: what these share with them is
 *   not looked into again (feeds of one batch hold one composition).
 * @example sameContent({ a: [1, null] }, { a: [1, null], b: undefined }) // true
 */
export function sameContent(
  a: unknown,
  b: unknown,
  before: readonly [unknown, unknown] | null = null,
): boolean {
  if (Object.is(a, b)) return true;
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return false;
  if (Array.isArray(a) !== Array.isArray(b)) return false;
  const one = a as Fields;
  const other = b as Fields;
  let defined = 0;
  for (const key in one) {
    const x = one[key];
    const y = other[key];
    if (x !== undefined) defined++;
    // Asked once for every cell of a study: no call where a glance is enough.
    if (x === y && x !== 0) continue;
    if (before !== null && wasSame(before, key, x, y)) continue;
    if (!sameContent(x, y)) return false;
  }
  // As many fields, and each is one of the first: there is none beside them.
  let fields = 0;
  for (const _ in other) fields++;
  if (fields === defined) return true;
  for (const key in other) if (other[key] !== undefined && one[key] === undefined) return false;
  return true;
}

function wasSame(before: readonly [unknown, unknown], key: string, x: unknown, y: unknown) {
  if (typeof x !== "object" || x === null || y === null) return false;
  const [one, other] = before as readonly [Fields, Fields];
  return one[key] === x && other[key] === y;
}

type Fields = Readonly<Record<string, unknown>>;
