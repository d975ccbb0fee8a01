import { createRequire } from "node:module";
import { join } from "node:path";
import { UsageError } from "../core/usage-error.js";

/** Rows of plain cells: what goes into a data frame and comes back from it. */
export type FrameRow = Readonly<Record<string, string | number | boolean | null>>;

/** What is used of a danfojs DataFrame; its own types are not mentioned so that it stays optional. */
export interface DataFrameLike {
  readonly columns: readonly string[];
  readonly values: readonly unknown[];
  readonly shape: readonly number[];
  print(): void;
  head(rows?: number): DataFrameLike;
}

/**
 * Hands rows to a danfojs DataFrame. Missing values become NaN in number
 * columns (what danfojs reads as missing) and empty text in others.
 *
 * Arithmetic between data frames there is done in 32 bits in places: keep
 * statistics here and use frames for looking, filtering and handing on.
 *
 * Throws a UsageError that says how to add danfojs-node when it is not there.
 */
export function toDataFrame(rows: readonly FrameRow[]): DataFrameLike {
  const { DataFrame } = danfo();
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const columns = names.map((name) => {
    const cells = rows.map((row) => row[name] ?? null);
    const numeric = cells.some((cell) => typeof cell === "number");
    return [name, cells.map((cell) => cell ?? (numeric ? Number.NaN : ""))] as const;
  });
  return new DataFrame(Object.fromEntries(columns)) as DataFrameLike;
}

/**
 * Takes rows back from a DataFrame: NaN and undefined become `null`, everything
 * else stays as it is.
 */
export function fromDataFrame(frame: DataFrameLike): FrameRow[] {
  return frame.values.map((values) => {
    const row = Array.isArray(values) ? values : [values];
    return Object.fromEntries(
      frame.columns.map((name, at) => {
        const cell: unknown = row[at];
        const missing = cell === undefined || cell === null || Number.isNaN(cell);
        return [name, missing ? null : (cell as string | number | boolean)];
      }),
    );
  });
}

interface Danfo {
  readonly DataFrame: new (columns: Readonly<Record<string, readonly unknown[]>>) => unknown;
}

let loaded: Danfo | undefined;

function danfo(): Danfo {
  if (loaded !== undefined) return loaded;
  // The reader's own project first, then the one this library is installed in.
  const from = [join(process.cwd(), "notebook.js"), import.meta.url];
  let fault: unknown;
  for (const place of from) {
    try {
      loaded = quietly(() => createRequire(place)("danfojs-node") as Danfo);
      return loaded;
    } catch (error) {
      fault = error;
    }
  }
  throw new UsageError({
    needed: "the package danfojs-node 1.2.0 (it is optional)",
    came: `it could not be loaded (${fault instanceof Error ? fault.message.split("\n")[0] : String(fault)})`,
    where: "toDataFrame",
    todo:
      'Add "danfojs-node": "1.2.0" to your package.json together with the overrides ' +
      '{ "xlsx": "npm:@e965/xlsx@0.20.3", "@tensorflow/tfjs-node": "npm:@tensorflow/tfjs@3.21.0" }, then npm install.',
  });
}

/** The library underneath greets on the console when it is loaded; nobody asked for that. */
function quietly<T>(work: () => T): T {
  const { log, warn } = console;
  console.log = () => {};
  console.warn = () => {};
  try {
    return work();
  } finally {
    console.log = log;
    console.warn = warn;
  }
}
