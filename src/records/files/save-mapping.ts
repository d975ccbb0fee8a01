import { readFile } from "node:fs/promises";
import type { StudyProposal } from "../propose-for-study.js";
import { withAgreed } from "../with-agreed.js";
import { pathWithin } from "./path-within.js";
import { writeAtomically } from "./write-atomically.js";

/**
 * Writes agreed proposals into study.json; see `withAgreed`.
 *
 * @returns what was added, one line each: "columns: weighings.mass_g = Gewicht (kg)".
 */
export async function saveMapping(folder: string, proposal: StudyProposal): Promise<string[]> {
  const path = pathWithin(folder, "study.json");
  const { text, added } = withAgreed(await readFile(path, "utf8"), proposal);
  if (added.length > 0) await writeAtomically(path, text);
  return added;
}
