import { UsageError } from "../../core/usage-error.js";
import type { LevelShape } from "./blocks.js";
import type { LinearMixedData } from "./data.js";

/** Numbers groups level by level (outermost first) and sorts rows so that groups lie together. */
export function sortByGroups(data: LinearMixedData, n: number) {
  const groupings = data.levels.map((l) => l.group);
  const inner = data.levels.length === 0 ? [data.serialGroup ?? null] : groupings;
  let codes = new Int32Array(n);
  let count = 1;
  const parents: Int32Array[] = [];
  const names: string[][] = [];
  for (const grouping of inner) {
    const seen = new Map<unknown, number>();
    const parent: number[] = [];
    const label: string[] = [];
    const next = new Int32Array(n);
    let lastOuter = -1;
    let lastValue: unknown;
    let lastCode = -1;
    for (let i = 0; i < n; i++) {
      const value = grouping === null ? 0 : grouping[i]!;
      if (lastCode >= 0 && codes[i] === lastOuter && value === lastValue) {
        next[i] = lastCode;
        continue;
      }
      const key = count === 1 ? value : `${codes[i]}|${value}`;
      let code = seen.get(key);
      if (code === undefined) {
        code = label.length;
        seen.set(key, code);
        label.push(String(value));
        parent.push(codes[i]!);
      }
      next[i] = code;
      lastOuter = codes[i]!;
      lastValue = value;
      lastCode = code;
    }
    const level = data.levels[parents.length];
    if (level !== undefined && parents.length > 0 && level.nested !== true) {
      refuseCrossed(level.name, data.levels[parents.length - 1]!.name, label, parent);
    }
    parents.push(Int32Array.from(parent));
    names.push(label);
    codes = next;
    count = label.length;
  }
  const time = data.residual?.serial?.time;
  const order = groupOrder(codes, count, n, time);
  const starts = new Int32Array(count + 1);
  for (let i = 0; i < n; i++) starts[codes[i]! + 1]!++;
  for (let g = 0; g < count; g++) starts[g + 1]! += starts[g]!;
  if (time !== undefined) {
    for (let g = 0; g < count; g++) {
      for (let i = starts[g]! + 1; i < starts[g + 1]!; i++) {
        if (time[order[i]!]! <= time[order[i - 1]!]!) {
          throw new UsageError({
            needed: "one row per group and time for serial correlation",
            came: `group ${names[names.length - 1]![g]} has two rows at time ${time[order[i]!]}`,
            where: "fitLinearMixed",
            todo: "Average or drop the repeats, or leave serial correlation out.",
          });
        }
      }
    }
  }
  const shapes: LevelShape[] = [];
  if (data.levels.length > 0) {
    for (let k = data.levels.length - 1; k >= 0; k--) {
      shapes.push({
        q: data.levels[k]!.columns.length,
        groups: names[k]!.length,
        parent: k === 0 ? new Int32Array(names[0]!.length) : parents[k]!,
      });
    }
  }
  return { order, starts, shapes, labels: [...names].reverse() };
}

/** A label in two outer groups is a crossed factor, or a name used twice: only the caller knows. */
function refuseCrossed(
  inner: string,
  outer: string,
  labels: readonly string[],
  parent: readonly number[],
): void {
  const seen = new Map<string, number>();
  labels.forEach((label, g) => {
    const first = seen.get(label);
    if (first === undefined) seen.set(label, parent[g]!);
    else if (first !== parent[g]) {
      throw new UsageError({
        needed: `each group of ${inner} inside one group of ${outer}`,
        came: `"${label}" stands in several`,
        where: "fitLinearMixed",
        todo: `If ${inner} crosses ${outer}, give the one with fewer groups first, as crossedLevel(name, group). If each group of ${outer} uses the label again for a group of its own, say nested: true.`,
      });
    }
  });
}

/** A stable counting sort by group, then by time inside each group where time matters. */
function groupOrder(codes: Int32Array, count: number, n: number, time?: ArrayLike<number>) {
  const at = new Int32Array(count + 1);
  for (let i = 0; i < n; i++) at[codes[i]! + 1]!++;
  for (let g = 0; g < count; g++) at[g + 1]! += at[g]!;
  const starts = at.slice();
  const order = new Int32Array(n);
  for (let i = 0; i < n; i++) order[at[codes[i]!]!++] = i;
  if (time !== undefined) {
    for (let g = 0; g < count; g++) {
      order.subarray(starts[g]!, starts[g + 1]!).sort((a, b) => time[a]! - time[b]! || a - b);
    }
  }
  return order;
}
