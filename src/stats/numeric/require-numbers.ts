import { UsageError } from "../../core/usage-error.js";

/**
 * Refuses what is no list of finite numbers, naming the mistake: no list, a wrong
 * length, text in place of a number ("5"), a gap. A number kept as text is never
 * turned into one silently: "5" + 1 is "51", and "1,5" is neither 1.5 nor 15.
 *
 * @param where the function that was called
 * @param name what the values are, as the caller calls them
 * @param length how many are needed; left out, any number of them
 * @throws UsageError for the first value that is no finite number.
 * @example requireNumbers("fitLinearMixed", "the response", ["5"])
 * // throws: needed numbers as the response, but row 0 is the text "5" ...
 */
export function requireNumbers(
  where: string,
  name: string,
  values: unknown,
  length?: number,
): asserts values is ArrayLike<number> {
  const fail = (needed: string, came: string, todo: string): never => {
    throw new UsageError({ needed, came, where, todo });
  };
  if (!isList(values)) {
    return fail(
      `a list of numbers as ${name}`,
      `${values === null ? "null" : typeof values === "object" ? "an object" : String(values)} came`,
      "Give an array with one number per row.",
    );
  }
  if (length !== undefined && values.length !== length) {
    fail(
      `${length} numbers as ${name}`,
      `${values.length} came`,
      "Give one number per row, columns as one list each.",
    );
  }
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    if (typeof value === "number" && Number.isFinite(value)) continue;
    if (typeof value === "string") {
      fail(
        `numbers as ${name}`,
        `row ${i} is the text "${value}"`,
        "Turn text into numbers before the fit, for instance with values.map(Number).",
      );
    }
    fail(
      `finite numbers as ${name}`,
      `row ${i} is ${Array.isArray(value) ? "a list" : String(value)}`,
      "Leave out incomplete rows before the fit and give one number per row.",
    );
  }
}

/**
 * Refuses what is not one finite number, naming the mistake.
 *
 * @throws UsageError for a list, text, a gap or a number that is not finite.
 * @example requireNumber("predictMass", "an age", [3, 5])
 * // throws: needed an age as one number, but a list of 2 came ...
 */
export function requireNumber(
  where: string,
  name: string,
  value: unknown,
): asserts value is number {
  if (typeof value === "number" && Number.isFinite(value)) return;
  const list = isList(value);
  throw new UsageError({
    needed: `${name} as one ${typeof value === "number" ? "finite " : ""}number`,
    came: list
      ? `a list of ${value.length} came`
      : typeof value === "string"
        ? `the text "${value}" came`
        : `${value !== null && typeof value === "object" ? "an object" : String(value)} came`,
    where,
    todo: list
      ? "Ask once for each: list.map((each) => ...)."
      : "Give a number, without quotation marks.",
  });
}

function isList(values: unknown): values is ArrayLike<unknown> {
  return Array.isArray(values) || ArrayBuffer.isView(values);
}
