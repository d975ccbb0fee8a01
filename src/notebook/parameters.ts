import { UsageError } from "../core/usage-error.js";

export type ParameterValue = string | number | boolean | null;

/**
 * Checks the values of the cell tagged `parameters` before anything is computed
 * from them: texts must not be empty, numbers must be finite and not below 0, of two
 * ages (`fromAgeD`, `toAgeD`) the first must be the younger. Returns them frozen.
 *
 * @throws UsageError naming the first that is not so.
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
            : typeof value === "number" && value < 0
              ? `it is ${value}, below 0`
              : null;
    if (fault === null) continue;
    throw new UsageError({
      needed: `a value for ${name}`,
      came: fault,
      where: "the cell tagged parameters",
      todo: `Give ${name} a value there and run the notebook from the top.`,
    });
  }
  const { fromAgeD, toAgeD } = values;
  if (typeof toAgeD === "number" && !(toAgeD > Number(fromAgeD ?? 0)))
    throw new UsageError({
      needed: "two ages in days, the younger first",
      came: `fromAgeD is ${fromAgeD} and toAgeD is ${toAgeD}`,
      where: "the cell tagged parameters",
      todo: "Correct them there and run the notebook from the top.",
    });
  return Object.freeze({ ...values });
}
