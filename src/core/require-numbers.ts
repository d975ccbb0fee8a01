import { UsageError } from "./usage-error.js";

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
 * // throws: needed a list of numbers as the response, but row 0 is the text "5" ...
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
  if (!isList(values)) throw noNumbers(where, name, asCame(values));
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
    if (typeof value === "string") throw noNumbers(where, name, textAt(i, value));
    fail(
      `finite numbers as ${name}`,
      `row ${i} is ${Array.isArray(value) ? "a list" : String(value)}`,
      "Leave out incomplete rows before the fit and give one number per row.",
    );
  }
}

/**
 * Refuses what is no list, and text in a list of numbers; gaps and numbers that are
 * not finite may stand in it, for those who leave them out and count them.
 *
 * @param where the function that was called
 * @param name what the values are, as the caller calls them
 * @throws UsageError for no list, and for the first value that is text.
 * @example requireList("describe", "values", [1, null, "3"])
 * // throws: needed a list of numbers as values, but row 2 is the text "3" ...
 */
export function requireList(
  where: string,
  name: string,
  values: unknown,
): asserts values is ArrayLike<number | null | undefined> {
  if (!isList(values)) throw noNumbers(where, name, asCame(values));
  // Typed arrays hold numbers alone.
  if (ArrayBuffer.isView(values)) return;
  for (let i = 0; i < values.length; i++) {
    const value = values[i];
    if (typeof value === "string") throw noNumbers(where, name, textAt(i, value));
  }
}

/**
 * What can be gone through once (a set, a generator) as a list that `requireList` accepts.
 *
 * @throws UsageError as `requireList`.
 * @example listOf("describe", "the values", new Set([1, null])) // [1, null]
 */
export function listOf(
  where: string,
  name: string,
  values: unknown,
): readonly (number | null | undefined)[] {
  const iterable = typeof values === "object" && values !== null && Symbol.iterator in values;
  const list =
    iterable && !Array.isArray(values) ? Array.from(values as Iterable<unknown>) : values;
  requireList(where, name, list);
  return list as readonly (number | null | undefined)[];
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
    came: list ? `a list of ${value.length} came` : asCame(value),
    where,
    todo: list
      ? "Ask once for each: list.map((each) => ...)."
      : "Give a number, without quotation marks.",
  });
}

function noNumbers(where: string, name: string, came: string): UsageError {
  return new UsageError({
    needed: `a list of numbers as ${name}`,
    came,
    where,
    todo: "Give one number per row; text is turned into numbers with values.map(Number).",
  });
}

const textAt = (row: number, text: string) => `row ${row} is the text "${text}"`;

const asCame = (given: unknown) =>
  `${typeof given === "string" ? `the text "${given}"` : given !== null && typeof given === "object" ? "an object" : String(given)} came`;

function isList(values: unknown): values is ArrayLike<unknown> {
  return Array.isArray(values) || ArrayBuffer.isView(values);
}
