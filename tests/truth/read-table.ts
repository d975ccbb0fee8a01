/** A comma-separated table as one array of texts per column; quotes are dropped. */
export function readTable(text: string): Record<string, string[]> {
  const [head, ...lines] = text.trim().split(/\r?\n/);
  const cells = (line: string) => line.split(",").map((c) => c.trim().replace(/^"|"$/g, ""));
  const names = cells(head!);
  const out: Record<string, string[]> = Object.fromEntries(names.map((n) => [n, []]));
  for (const line of lines) {
    cells(line).forEach((c, j) => {
      out[names[j]!]!.push(c);
    });
  }
  return out;
}

/** The rows of a table for which `keep` holds. */
export function filterTable(
  table: Record<string, string[]>,
  keep: (row: (name: string) => string) => boolean,
): Record<string, string[]> {
  const rows = Object.values(table)[0]?.length ?? 0;
  const kept = Array.from({ length: rows }, (_, i) => i).filter((i) =>
    keep((name) => table[name]![i]!),
  );
  return Object.fromEntries(Object.entries(table).map(([n, c]) => [n, kept.map((i) => c[i]!)]));
}
