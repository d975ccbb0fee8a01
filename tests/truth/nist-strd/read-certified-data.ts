/**
 * The data rows of a file of NIST's Statistical Reference Datasets
 * (https://www.itl.nist.gov/div898/strd/, public domain). The header of each file
 * says in which lines the data stand.
 */
export function readCertifiedRows(text: string): number[][] {
  const lines = text.split(/\r?\n/);
  const where = /Data\s*\(lines?\s+(\d+)\s+to\s+(\d+)\)/i.exec(text);
  const numbers = (line: string) => line.trim().split(/\s+/).map(Number);
  if (where !== null) {
    return lines
      .slice(Number(where[1]) - 1, Number(where[2]))
      .map(numbers)
      .filter((row) => row.length > 0 && row.every(Number.isFinite));
  }
  // Univariate files: everything after the dashed line under the last "Data:".
  let start = 0;
  lines.forEach((line, i) => {
    if (/^-{5,}/.test(line.trim())) start = i + 1;
  });
  return lines
    .slice(start)
    .filter((line) => line.trim() !== "")
    .map(numbers);
}

/** Number of leading digits two values share: -log10 of the relative (or absolute) error, at most 15. */
export function sharedDigits(got: number, certified: number): number {
  if (got === certified) return 15;
  const off = Math.abs(got - certified) / (certified === 0 ? 1 : Math.abs(certified));
  return Math.min(15, -Math.log10(off));
}
