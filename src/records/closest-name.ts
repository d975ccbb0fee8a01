/**
 * The one known name that is nearest to a written one, if it is near (at most
 * two letters added, dropped, changed or exchanged, and fewer than a third of
 * the name) and no other is as near. Signs that look alike on paper (l and 1, O
 * and 0) count as the same where that leaves one name.
 *
 * @example closestName("O22-0l", new Set(["O22-01", "O23-01"])) // "O22-01"
 */
export function closestName(written: string, known: ReadonlySet<string>): string | null {
  const a = written.toLowerCase();
  const alike = [...known].filter((name) => asSeen(name) === asSeen(written));
  if (alike.length === 1) return alike[0]!;
  const limit = Math.min(2, Math.max(1, Math.floor(a.length / 3)));
  let best: string | null = null;
  let bestDistance = limit + 1;
  let tied = false;
  for (const name of known) {
    const b = name.toLowerCase();
    if (Math.abs(a.length - b.length) > limit) continue;
    const d = editDistance(a, b);
    if (d < bestDistance) {
      best = name;
      bestDistance = d;
      tied = false;
    } else if (d === bestDistance) tied = true;
  }
  return bestDistance <= limit && !tied ? best : null;
}

/** What a name looks like on paper. */
function asSeen(name: string): string {
  return name
    .toLowerCase()
    .replace(/[\s_.-]/g, "")
    .replace(/[li|]/g, "1")
    .replaceAll("o", "0");
}

/**
 * Remembers what was found, and after many different names stops looking: a
 * file full of strange names must not take an hour for its suggestions.
 */
export function nameGuesser(
  known: ReadonlySet<string>,
  most = 1000,
): (written: string) => string | null {
  const found = new Map<string, string | null>();
  return (written) => {
    const kept = found.get(written);
    if (kept !== undefined) return kept;
    if (found.size >= most || written.length > 200) return null;
    const close = closestName(written, known);
    found.set(written, close);
    return close;
  };
}

/** Letters added, dropped, changed or two neighbours exchanged (optimal string alignment). */
function editDistance(a: string, b: string): number {
  let before: number[] = [];
  let previous = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      const same = a[i - 1] === b[j - 1];
      let d = Math.min(previous[j]! + 1, row[j - 1]! + 1, previous[j - 1]! + (same ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        d = Math.min(d, before[j - 2]! + 1);
      row.push(d);
    }
    before = previous;
    previous = row;
  }
  return previous[b.length]!;
}
