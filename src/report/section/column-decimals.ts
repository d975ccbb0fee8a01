import { formatNumber } from "../../units/format-number.js";

/**
 * Decimals that all bare numbers of a column are shown with, so that 79 and 67.3
 * stand as 79.0 and 67.3: as many as the largest needs for so many significant
 * digits, and no more than any of them has. Undefined where the column holds other
 * things too, or where a small number would be shown as nothing.
 *
 * @example columnDecimals([79, 67.3, null], 3) // 1
 */
export function columnDecimals(cells: readonly unknown[], digits: number): number | undefined {
  const filled = cells.filter((cell) => cell !== null);
  const sizes = filled.flatMap((cell) =>
    typeof cell === "number" && Number.isFinite(cell) ? [Math.abs(cell)] : [],
  );
  const most = Math.max(0, ...sizes);
  if (sizes.length < filled.length || most === 0) return undefined;
  const decimalsOf = (size: number) => formatNumber(size, digits).split(".")[1]?.length ?? 0;
  const wanted = Math.max(0, digits - 1 - Math.floor(Math.log10(most)));
  const decimals = Math.min(wanted, Math.max(...sizes.map(decimalsOf)));
  const least = Math.min(...sizes.filter((size) => size > 0));
  return least * 10 ** decimals < 1 ? undefined : decimals;
}
