import { UsageError } from "../../core/usage-error.js";
import { type Matrix, makeMatrix } from "../linear-algebra/matrix.js";

/** A column of numbers, or a factor: one level name per row. */
export type Variable =
  | { readonly name: string; readonly kind: "number"; readonly values: ArrayLike<number> }
  | {
      readonly name: string;
      readonly kind: "factor";
      readonly values: readonly string[];
      /** Order of the levels, the first being the reference. Default: sorted. */
      readonly levels?: readonly string[];
    };

/** A term: one variable, or the interaction of several. */
export type Term = readonly string[];

/** `"treatment"`: each level against the first; `"sum"`: levels add to zero. */
export type Coding = "treatment" | "sum";

export interface ModelDesign {
  /** Constant first, then the terms' columns. */
  readonly matrix: Matrix;
  readonly columnNames: readonly string[];
  /** For each column the position of its term; -1 for the constant. */
  readonly termOf: readonly number[];
  readonly terms: readonly Term[];
  readonly termNames: readonly string[];
}

/**
 * Builds the design matrix of a model with a constant from variables and terms;
 * lower-order terms come first, otherwise the order given is kept.
 *
 * @throws UsageError for an unknown variable, a length that differs or an unknown level.
 * @example buildModelDesign([x, group], [["x"], ["group"]]).columnNames // "(constant)", "x", "group b"
 */
export function buildModelDesign(
  variables: readonly Variable[],
  terms: readonly Term[],
  coding: Coding = "treatment",
): ModelDesign {
  const byName = new Map(variables.map((v) => [v.name, v]));
  const rows = variables[0]?.values.length ?? 0;
  for (const v of variables) {
    if (v.values.length !== rows) {
      complain(`${rows} values of ${v.name}`, `${v.values.length} came`);
    }
  }
  const ordered = terms.slice().sort((a, b) => a.length - b.length);
  for (const name of ordered.flat()) {
    if (!byName.has(name)) complain("a term made of given variables", `"${name}" is none`);
  }
  const columns: Float64Array[] = [new Float64Array(rows).fill(1)];
  const columnNames = ["(constant)"];
  const termOf = [-1];
  ordered.forEach((term, t) => {
    const parts = term.map((name) => codedColumns(byName.get(name)!, coding));
    for (const chosen of combinations(parts.map((p) => p.length))) {
      const column = new Float64Array(rows).fill(1);
      const names: string[] = [];
      chosen.forEach((k, part) => {
        const { label, values } = parts[part]![k]!;
        names.push(label);
        for (let i = 0; i < rows; i++) column[i]! *= values[i]!;
      });
      columns.push(column);
      columnNames.push(names.join(" x "));
      termOf.push(t);
    }
  });
  const matrix = makeMatrix(rows, columns.length);
  columns.forEach((c, j) => {
    for (let i = 0; i < rows; i++) matrix.data[i * columns.length + j] = c[i]!;
  });
  return {
    matrix,
    columnNames,
    termOf,
    terms: ordered,
    termNames: ordered.map((t) => t.join(" x ")),
  };
}

/** One row of the same design at chosen values; factors as shares of their levels. */
export function designRow(
  variables: readonly Variable[],
  terms: readonly Term[],
  at: Readonly<Record<string, number | Readonly<Record<string, number>>>>,
  coding: Coding = "treatment",
): Float64Array {
  const coded = new Map(
    variables.map((v) => {
      const value = at[v.name];
      if (v.kind === "number") return [v.name, [typeof value === "number" ? value : Number.NaN]];
      const shares = typeof value === "object" ? value : {};
      const levels = levelsOf(v);
      const row = levels.slice(1).map(() => 0);
      levels.forEach((level, l) => {
        const share = shares[level] ?? 0;
        codeOf(levels.length, l, coding).forEach((c, k) => {
          row[k]! += share * c;
        });
      });
      return [v.name, row];
    }),
  );
  const out = [1];
  for (const term of terms.slice().sort((a, b) => a.length - b.length)) {
    const parts = term.map((name) => coded.get(name)!);
    for (const chosen of combinations(parts.map((p) => p.length))) {
      out.push(chosen.reduce((s, k, part) => s * parts[part]![k]!, 1));
    }
  }
  return Float64Array.from(out);
}

/** The levels of a factor, the reference first. */
export function levelsOf(v: Variable): readonly string[] {
  if (v.kind === "number") return [];
  return v.levels ?? [...new Set(v.values)].sort((a, b) => (a < b ? -1 : a > b ? 1 : 0));
}

function codedColumns(
  v: Variable,
  coding: Coding,
): { readonly label: string; readonly values: Float64Array }[] {
  if (v.kind === "number") return [{ label: v.name, values: Float64Array.from(v.values) }];
  const levels = levelsOf(v);
  const place = new Map(levels.map((l, i) => [l, i]));
  const codes = levels.map((_, l) => codeOf(levels.length, l, coding));
  return levels.slice(1).map((level, k) => ({
    label: `${v.name} ${coding === "treatment" ? level : levels[k]}`,
    values: Float64Array.from(v.values, (value) => {
      const l = place.get(value);
      if (l === undefined) complain(`one of the levels of ${v.name}`, `"${value}" came`);
      return codes[l]![k]!;
    }),
  }));
}

function codeOf(count: number, level: number, coding: Coding): number[] {
  return Array.from({ length: count - 1 }, (_, k) => {
    if (coding === "treatment") return level === k + 1 ? 1 : 0;
    return level === count - 1 ? -1 : level === k ? 1 : 0;
  });
}

/** Every choice of one position per part, the first part running fastest. */
function combinations(sizes: readonly number[]): number[][] {
  let out: number[][] = [[]];
  for (const size of sizes) {
    out = Array.from({ length: size }, (_, k) => out.map((c) => [...c, k])).flat();
  }
  return out;
}

function complain(needed: string, came: string): never {
  throw new UsageError({
    needed,
    came,
    where: "buildModelDesign",
    todo: "Check the names and lengths of the variables.",
  });
}
