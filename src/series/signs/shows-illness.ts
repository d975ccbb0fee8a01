import type { Finding, Sign } from "./sign.js";

const ill: ReadonlySet<Finding> = new Set([
  "treatment of illness",
  "vomit",
  "bloat",
  "blood",
  "convulsion",
  "cannot be roused",
  "not suckling",
  "trouble breathing",
  "dehydrated",
  "watery stool",
]);

/**
 * Whether a line shows its animal as ill or treated for an illness: a sign that was
 * present, or a treatment that is marked as one. Looked and none, a routine
 * supplement, and a line that cannot be read show nothing.
 *
 * @example showsIllness(readSign({ kind: "vomit", valueText: "none", ... }, settings)) // false
 */
export function showsIllness(sign: Sign): boolean {
  if (sign.state === "present" && ill.has(sign.kind as Finding)) return true;
  return sign.findings.some((finding) => ill.has(finding));
}
