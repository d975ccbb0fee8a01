import { createHash } from "node:crypto";
import type { Piece } from "./demo-results.js";
import { renamedKeys, renamedValues, reshaped } from "./renamed-keys.js";

/** What is kept of one result: its digest, its size, and a few of its numbers to see a change by. */
export interface Golden {
  readonly digest: string;
  readonly characters: number;
  readonly numbers: number;
  /** Sum and sum of absolute values of every number in it, as float64 adds them. */
  readonly sum: number;
  readonly size: number;
}

const thenOf = new Map(renamedKeys.map((r) => [`${r.under}/${r.today}`, r.before]));

/** Every key in alphabetical order and under the name it had when the goldens were made. */
function told(value: unknown, parent: string): unknown {
  if (Array.isArray(value)) return value.map((each) => told(each, parent));
  if (typeof value === "string") return renamedValues.get(value) ?? value;
  if (value === null || typeof value !== "object") return value;
  // A table kept as columns is its rows.
  if ("toJSON" in value && typeof value.toJSON === "function") return told(value.toJSON(), parent);
  const older = Object.hasOwn(reshaped, parent) ? reshaped[parent]!({ ...value }) : value;
  const entries = Object.entries(older)
    .filter(([, inner]) => inner !== undefined)
    .map(([key, inner]) => {
      const then = thenOf.get(`${parent}/${key}`) ?? thenOf.get(`*/${key}`) ?? key;
      return [then, told(inner, then)] as const;
    });
  return Object.fromEntries(entries.sort((a, b) => (a[0] < b[0] ? -1 : 1)));
}

/** The digest of one result: equal only when every number is equal bit for bit. */
export function goldenOf([name, result]: Piece): readonly [string, Golden] {
  const text = JSON.stringify(told(result, name)) ?? "undefined";
  let numbers = 0;
  let sum = 0;
  let size = 0;
  for (const m of text.matchAll(/(?<=[:[,])-?\d[\d.e+-]*(?=[,}\]])/g)) {
    const x = Number(m[0]);
    numbers++;
    sum += x;
    size += Math.abs(x);
  }
  const digest = createHash("sha256").update(text).digest("hex").slice(0, 32);
  return [name, { digest, characters: text.length, numbers, sum, size }];
}
