import { UsageError } from "./usage-error.js";

/**
 * Refuses what is not the whole result of the function named, and says what came: its value
 * alone, the result of another function, or nothing of the kind.
 *
 * @param where the function that was called
 * @param kind the kind asked for, which is the name of the file that makes it
 * @throws UsageError for anything else.
 * @example requireResult("predictMass", "fit-curve", fit.value)
 * // throws: needed a whole result of fitCurve, but an object without a kind came ...
 */
export function requireResult(where: string, kind: string, given: unknown): void {
  const came = typeof given === "object" && given !== null ? (given as { kind?: unknown }) : null;
  if (came?.kind === kind) return;
  const made = kind.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());
  throw new UsageError({
    needed: `a whole result of ${made}`,
    came:
      came === null
        ? `${given === null ? "null" : typeof given} came`
        : typeof came.kind === "string"
          ? `a result "${came.kind}" came`
          : "an object without a kind came",
    where,
    todo: `Give what ${made} returned, not its value or a part of it.`,
  });
}
