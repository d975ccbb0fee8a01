import type { core } from "zod";

/** How a person calls what a setting must be. */
const kinds: Readonly<Record<string, string>> = {
  string: "a text",
  number: "a number",
  int: "a whole number",
  boolean: "true or false",
  array: "a list",
  tuple: "a list",
  object: "names with their values in { }",
  record: "names with their values in { }",
};

/**
 * What a value of study.json or a prior file should have been, in words; the checker's
 * own words are for programmers.
 *
 * @example whatIsWrong({ code: "too_small", origin: "number", minimum: 0, inclusive: false, ... }) // "it must be above 0"
 */
export function whatIsWrong(issue: core.$ZodIssue): string {
  switch (issue.code) {
    case "invalid_type":
      return `${kinds[issue.expected] ?? "another kind of value"} is needed`;
    case "too_small":
      return bound(issue.origin, issue.inclusive ? "at least" : "above", String(issue.minimum));
    case "too_big":
      return bound(issue.origin, issue.inclusive ? "at most" : "below", String(issue.maximum));
    case "invalid_value":
      return `one of ${issue.values.map(String).join(", ")} is needed`;
    case "custom":
      return issue.message;
    default:
      return "it is not as it must be";
  }
}

function bound(origin: string, how: string, limit: string): string {
  if (origin === "string")
    return limit === "1" ? "it is empty" : `it must have ${how} ${limit} letters`;
  if (origin === "array") return `it must have ${how} ${limit} entries`;
  return `it must be ${how} ${limit}`;
}
