import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { type Matrix, matrixFromColumns } from "../linear-algebra/matrix.js";

/** A variable a fixed design can be built from. */
export type DesignVariable =
  | { readonly kind: "number"; readonly values: ArrayLike<number> }
  | {
      readonly kind: "factor";
      readonly values: ArrayLike<string | number>;
      /** The first one is the baseline; by default in order of number or alphabet. */
      readonly levels?: readonly string[];
    }
  | {
      /** Several columns made from one number: a polynomial, a natural or B spline. */
      readonly kind: "basis";
      readonly values: ArrayLike<number>;
      readonly names: readonly string[];
      readonly evaluate: (x: number) => ArrayLike<number>;
    };

export type DesignVariables = Readonly<Record<string, DesignVariable>>;

export interface FixedDesign {
  readonly names: readonly string[];
  readonly columns: readonly Float64Array[];
  /** The same columns as one matrix, a row for each observation. */
  readonly matrix: Matrix;
  /** Each term, main effects and products in the order given, and its columns. */
  readonly terms: readonly { readonly name: string; readonly columns: readonly number[] }[];
  readonly intercept: boolean;
  /** Resolved factor levels by variable. */
  readonly levels: Readonly<Record<string, readonly string[]>>;
  /** The row of the design at given values of its variables, for predictions and means. */
  rowAt(at: Readonly<Record<string, string | number>>): Float64Array;
}

/** How factor levels become columns: against the baseline, or each against the average. */
export type FactorCoding = "treatment" | "sum";

/**
 * Builds a fixed design from variables and terms: `["day"]` is a main effect,
 * `["day", "diet"]` a product (interaction). A factor has a column for each level
 * but the first; where a product stands without the term it refines, the factor
 * keeps all its levels, so that every product spans the space it names.
 *
 * @throws UsageError for an unknown variable or level, or variables of different lengths.
 * @example buildDesign({ day, diet }, [["day"], ["diet"], ["day", "diet"]]).names
 * // "(Intercept)", "day", "diet2", "day:diet2", ...
 */
export function buildDesign(
  variables: DesignVariables,
  terms: readonly (readonly string[])[],
  options: { readonly intercept?: boolean; readonly coding?: FactorCoding } = {},
): FixedDesign {
  const intercept = options.intercept ?? true;
  const coding = options.coding ?? "treatment";
  for (const [name, v] of Object.entries(variables)) requireVariable(name, v);
  if (!terms.every(Array.isArray)) {
    throw unknown('terms as lists of names, ["day"] or ["day", "diet"]', "a term that is no list");
  }
  const levels: Record<string, readonly string[]> = {};
  for (const [name, v] of Object.entries(variables)) {
    if (v.kind === "factor") levels[name] = v.levels ?? sortedLevels(v.values);
  }
  const present = new Set(terms.map((t) => [...t].sort().join("\u0000")));
  const hasMargin = (term: readonly string[], without: string) => {
    const rest = term.filter((v) => v !== without);
    return rest.length === 0 ? intercept : present.has([...rest].sort().join("\u0000"));
  };
  const names: string[] = intercept ? ["(Intercept)"] : [];
  const makers: ((at: (name: string) => string | number) => number)[] = intercept ? [() => 1] : [];
  const spans: { name: string; columns: number[] }[] = [];
  let fullGiven = intercept;
  for (const term of terms) {
    let parts: Piece[] = [{ name: "", make: () => 1 }];
    for (const name of term) {
      const full = !hasMargin(term, name) && (term.length > 1 || !fullGiven);
      const own = piecesOf(name, variables[name], levels[name], full, coding);
      if (full && term.length === 1 && levels[name] !== undefined) fullGiven = true;
      parts = own.flatMap((b) =>
        parts.map((a) => ({
          name: a.name === "" ? b.name : `${a.name}:${b.name}`,
          make: (at: (name: string) => string | number) => a.make(at) * b.make(at),
        })),
      );
    }
    spans.push({ name: term.join(":"), columns: parts.map((_, k) => names.length + k) });
    for (const part of parts) {
      names.push(part.name);
      makers.push(part.make);
    }
  }
  const n = Math.max(0, ...Object.values(variables).map((v) => v.values.length));
  for (const [name, v] of Object.entries(variables)) {
    if (v.values.length !== n) throw unknown(`${n} values of ${name}`, `${v.values.length} came`);
  }
  const columns = makers.map((make) => {
    const out = new Float64Array(n);
    for (let i = 0; i < n; i++) out[i] = make((name) => variables[name]!.values[i]!);
    return out;
  });
  return {
    names,
    columns,
    matrix: matrixFromColumns(columns),
    terms: spans,
    intercept,
    levels,
    rowAt: (at) =>
      Float64Array.from(makers, (make) =>
        make((name) => {
          const value = at[name];
          if (value === undefined) throw unknown(`a value of ${name}`, "none was given");
          return value;
        }),
      ),
  };
}

interface Piece {
  readonly name: string;
  readonly make: (at: (name: string) => string | number) => number;
}

function piecesOf(
  name: string,
  variable: DesignVariable | undefined,
  levels: readonly string[] | undefined,
  full: boolean,
  coding: FactorCoding,
): Piece[] {
  if (variable === undefined) throw unknown("a known variable", `"${name}" came`);
  const numberAt = (at: (name: string) => string | number) => {
    const value = at(name);
    if (typeof value === "string") throw unknown(`${name} as a number`, `the text "${value}" came`);
    return value;
  };
  if (variable.kind === "number") return [{ name, make: numberAt }];
  if (variable.kind === "basis") {
    return variable.names.map((column, k) => ({
      name: column,
      make: (at) => variable.evaluate(numberAt(at))[k]!,
    }));
  }
  const known = levels!;
  const used = full ? known : coding === "treatment" ? known.slice(1) : known.slice(0, -1);
  const lastLevel = known[known.length - 1]!;
  return used.map((level) => ({
    name: `${name}${level}`,
    make: (at) => {
      const value = String(at(name));
      if (!known.includes(value)) throw unknown(`a level of ${name}`, `"${value}" came`);
      if (value === level) return 1;
      return coding === "sum" && !full && value === lastLevel ? -1 : 0;
    },
  }));
}

function requireVariable(name: string, variable: unknown): void {
  const { kind, values } = (variable ?? {}) as Partial<DesignVariable>;
  if (kind === "factor" && values !== undefined) return;
  if (kind === "number" || kind === "basis") {
    requireList("buildDesign", name, values);
    return;
  }
  throw unknown(
    `${name} as { kind: "number" or "factor", values }`,
    Array.isArray(variable) ? "a bare list came" : "something else came",
  );
}

function sortedLevels(values: ArrayLike<string | number>): string[] {
  const seen = [...new Set(Array.from(values, String))];
  const numeric = seen.every((s) => s.trim() !== "" && Number.isFinite(Number(s)));
  return seen.sort((a, b) => (numeric ? Number(a) - Number(b) : a < b ? -1 : a > b ? 1 : 0));
}

function unknown(needed: string, came: string): UsageError {
  return new UsageError({
    needed,
    came,
    where: "buildDesign",
    todo: "Name only variables and levels that are in the data, each with one value for each row.",
  });
}
