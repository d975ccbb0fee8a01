import { UsageError } from "../core/usage-error.js";

export type ParameterValue = string | number | boolean | null;

/**
 * Checks the values of the cell tagged `parameters` before anything is computed
 * from them: texts must not be empty, numbers must be finite. Returns them
 * frozen.
 *
 * @example const chosen = notebookParameters({ studyFolder: "../data-demo", animal: "Mica" })
 */
export function notebookParameters<T extends Readonly<Record<string, ParameterValue>>>(
  values: T,
): Readonly<T> {
  for (const [name, value] of Object.entries(values)) {
    const fault =
      typeof value === "string" && value.trim() === ""
        ? "it is empty"
        : typeof value === "number" && !Number.isFinite(value)
          ? `it is ${value}`
          : value === undefined
            ? "it has no value"
            : null;
    if (fault === null) continue;
    throw new UsageError({
      needed: `a value for ${name}`,
      came: fault,
      where: "the cell tagged parameters",
      todo: `Give ${name} a value there and run the notebook from the top.`,
    });
  }
  return Object.freeze({ ...values });
}
