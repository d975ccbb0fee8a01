import { readFile } from "node:fs/promises";
import { UsageError } from "../../core/usage-error.js";
import type { TableProposal } from "../propose-mapping.js";
import { pathWithin } from "./path-within.js";
import { writeAtomically } from "./write-atomically.js";

/**
 * Writes agreed proposals into study.json under `columns` and `files`, where a
 * person can read and change them; what stands there already is never changed.
 * How sure each was is kept beside them under `mapping_notes`.
 *
 * @returns what was added, as "table.column = header".
 */
export async function saveMapping(
  folder: string,
  proposals: readonly TableProposal[],
): Promise<string[]> {
  const path = pathWithin(folder, "study.json");
  const text = await readFile(path, "utf8");
  const study = JSON.parse(text.replace(/^\ufeff/, "")) as Record<string, unknown>;
  if (typeof study !== "object" || study === null || Array.isArray(study))
    throw new UsageError({
      needed: "a JSON object",
      came: "something else came",
      where: "study.json",
      todo: "Correct it first.",
    });
  const columns = section(study["columns"]);
  const files = section(study["files"]);
  const notes = section(study["mapping_notes"]);
  const added: string[] = [];
  for (const proposal of proposals) {
    const { table } = proposal;
    if (files[table] === undefined && !proposal.file.toLowerCase().startsWith(`${table}.`))
      files[table] = proposal.file;
    const mapped = section(columns[table]);
    for (const { column, header, confidence } of proposal.columns) {
      if (mapped[column] !== undefined || header === column) continue;
      mapped[column] = header;
      notes[`${table}.${column}`] =
        `proposed, ${Math.round(100 * confidence)} % sure; look it over`;
      added.push(`${table}.${column} = ${header}`);
    }
    if (Object.keys(mapped).length > 0) columns[table] = mapped;
  }
  const next: Record<string, unknown> = { ...study };
  if (Object.keys(files).length > 0) next["files"] = files;
  if (Object.keys(columns).length > 0) next["columns"] = columns;
  if (Object.keys(notes).length > 0) next["mapping_notes"] = notes;
  await writeAtomically(path, `${JSON.stringify(next, null, 2)}\n`);
  return added;
}

/** A copy of an object that may be none, without a prototype to stumble over. */
function section(value: unknown): Record<string, unknown> {
  const copy = Object.create(null) as Record<string, unknown>;
  if (typeof value === "object" && value !== null && !Array.isArray(value))
    Object.assign(copy, value);
  return copy;
}
