import { runSteps, type Steps } from "./steps.js";

/**
 * What was worked out before from one input: values by question. It hands back what it was
 * given, or nothing; losing everything costs time and changes no answer.
 */
export interface Remembered {
  /** What was kept under a question; null where there is nothing, or nothing whole. */
  recall(question: string): { readonly value: unknown } | null;
  keep(question: string, value: unknown): void;
}

const carried = Symbol("remembered");

/**
 * Gives an input what was worked out from it before. It goes with this very object: a copy,
 * in which anything may be changed, has none of it, and `JSON.stringify` does not see it.
 *
 * @example rememberedOf({ ...carryRemembered(study, remembered) }) // null
 */
export function carryRemembered<T extends object>(input: T, remembered: Remembered): T {
  return Object.defineProperty(input, carried, { value: remembered });
}

/** What an input carries; null where it carries nothing. */
export const rememberedOf = (input: object): Remembered | null =>
  (input as { readonly [carried]?: Remembered })[carried] ?? null;

/**
 * The answer to a question about an input: the one kept, else worked out and kept.
 *
 * @param asked everything beside the input that the answer hangs on, as plain data.
 * @example remember(rememberedOf(study), "flags", { onDay }, () => findFlags(series, { onDay }))
 */
export function remember<T>(
  remembered: Remembered | null,
  question: string,
  asked: object,
  work: () => T,
): T {
  return runSteps(rememberSteps(remembered, question, asked, stepless(work)));
}

/** The same for work that is done in steps. */
export function* rememberSteps<T>(
  remembered: Remembered | null,
  question: string,
  asked: object,
  work: () => Steps<T>,
): Steps<T> {
  if (remembered === null) return yield* work();
  const key = `${question} ${JSON.stringify(asked, distinct)}`;
  const found = remembered.recall(key);
  if (found !== null) return found.value as T;
  const value = yield* work();
  remembered.keep(key, value);
  return value;
}

/** Work as one step. */
const stepless = <T>(work: () => T) =>
  // biome-ignore lint/correctness/useYield: there is nothing between its steps.
  function* (): Steps<T> {
    return work();
  };

/** Values that JSON would write alike stay apart. */
function distinct(_: string, value: unknown): unknown {
  if (value === undefined) return { is: "undefined" };
  if (typeof value === "number" && !Number.isFinite(value)) return { is: String(value) };
  return value;
}
