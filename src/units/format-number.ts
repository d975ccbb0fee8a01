/**
 * A number with at most so many significant digits, whole numbers kept whole,
 * a true minus sign, thin spaces between thousands from 10 000 on, never an
 * exponent.
 *
 * @example formatNumber(12345.678) // "12 346" (narrow no-break space)
 * @example formatNumber(-0.0123456, 3) // "−0.0123"
 */
export function formatNumber(value: number, digits = 4): string {
  if (!Number.isFinite(value)) return Number.isNaN(value) ? "not a number" : value > 0 ? "∞" : "−∞";
  const size = Math.abs(value);
  if (size >= 1e15) return value > 0 ? "more than 10¹⁵" : "less than −10¹⁵";
  if (size !== 0 && size < 1e-9) return "0";
  const decimals = size === 0 ? 0 : Math.max(0, digits - 1 - Math.floor(Math.log10(size)));
  // Through the significant digits first: 0.99996 with four of them is 1.
  const rounded = size >= 10 ** (digits - 1) ? Math.round(size) : Number(size.toPrecision(digits));
  return signed(
    value,
    rounded
      .toFixed(Math.min(decimals, 15))
      .replace(/(\.\d*?)0+$/, "$1")
      .replace(/\.$/, ""),
  );
}

/** A number with exactly so many decimals. @example formatFixed(2.5, 2) // "2.50" */
export function formatFixed(value: number, decimals: number): string {
  return Number.isFinite(value) && Math.abs(value) < 1e15
    ? signed(value, Math.abs(value).toFixed(decimals))
    : formatNumber(value);
}

/**
 * A number rounded to a power of ten, with the decimals that this leaves.
 *
 * @example formatToPlace(487.3, 1) // "490"
 * @example formatToPlace(2.04, -1) // "2.0"
 */
export function formatToPlace(value: number, place: number): string {
  if (place <= 0) return formatFixed(value, Math.min(12, -place));
  return formatFixed(Math.round(value / 10 ** place) * 10 ** place, 0);
}

/** "1 weighing", "2 weighings". @example count(0, "feed") // "0 feeds" */
export function count(n: number, one: string, many = `${one}s`): string {
  return `${formatNumber(n, 15)} ${n === 1 ? one : many}`;
}

function signed(value: number, plain: string): string {
  const [head = "", tail] = plain.split(".");
  const grouped = head.length > 4 ? head.replace(/\B(?=(\d{3})+$)/g, "\u202f") : head;
  const text = tail === undefined ? grouped : `${grouped}.${tail}`;
  return value < 0 && Number(plain) !== 0 ? `−${text}` : text;
}
