import type { Result } from "../../core/result.js";
import { UsageError } from "../../core/usage-error.js";
import type { Archive } from "../archive-handle.js";
import type { SumRow } from "../chosen.js";

/** What makes a group. `diet` is the formula that an animal ate most of, but for intake the diet itself. */
export type SumBy = "facility" | "season" | "species" | "sex" | "diet" | "animal";

/** Rows of one sum, worked out inside the engine. */
export type Sums<Kind extends string> = Result<Kind, readonly SumRow[]>;

/** Columns of the table `stays` by which groups are made. */
export function groupColumns(by: readonly SumBy[], diet: string): string[] {
  if (by.length === 0)
    throw new UsageError({
      needed: "what makes a group",
      came: "nothing was given",
      where: "option by",
      todo: 'Give for example { by: ["facility", "season"] }.',
    });
  return [...new Set(by)].map((each) => (each === "diet" ? `${diet} AS diet` : `s.${each}`));
}

/** Runs one sum and says how it was made. */
export async function sumRows<Kind extends string>(
  archive: Archive,
  kind: Kind,
  name: string,
  sql: string,
  options: Readonly<Record<string, unknown>>,
): Promise<Sums<Kind>> {
  const value = await archive.rows(sql);
  return {
    kind,
    schema: 1,
    value,
    method: { name, options, citations: [] },
    basis: { used: archive.studies.length, leftOut: [], of: "studies" },
    diagnostics: { sql },
    notices: [],
  };
}
